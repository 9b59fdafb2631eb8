import type { SiteCalendar } from '../calendar.js';
import { findingOf, newCourse, type Course } from './course.js';
import { closeDay, lookByDays, openDay } from './course-by-days.js';
import { lookByHours } from './course-by-hours.js';
import { CourseWriter } from './course-writer.js';
import type { MoistureMeasure, Turn } from '../facts.js';
import { feel, newHeat, type Heat } from './heat.js';
import type { Moment } from './moments.js';
import type { Terms } from './terms.js';
import type { Span } from '../verdict.js';

export interface RecordedTurn {
  readonly atMs: number;
  readonly kind: Turn['kind'];
  /** The credited run up to the last check before it, where that check held lately enough: for rules that ask for hot time before a turn. */
  hot: (Span & { readonly stretch: number }) | null;
  /** It came after a cold check that an earlier turn excused, and before the next that held. */
  cold: boolean;
}

/** What was recorded since the last raw addition, as far as it was read. Plain data that survives JSON. */
export interface Period {
  /** Null before any raw material went in: then nothing counts, and only heat is felt. */
  readonly fromMs: number | null;
  checks: number;
  /** Instants at which a logger read. */
  readings: number;
  course: Course;
  turns: RecordedTurn[];
  measures: { readonly atMs: number; readonly percent: MoistureMeasure['percent'] }[];
  heat: Heat;
}

export function newPeriod(fromMs: number | null): Period {
  return { fromMs, checks: 0, readings: 0, course: newCourse(), turns: [], measures: [], heat: newHeat() };
}

/** Reads a period on, in order of time; of one instant, measures and turns before what was looked at. */
export class PeriodReader {
  readonly #writer: CourseWriter;

  constructor(
    readonly period: Period,
    readonly terms: Terms,
    readonly calendar: SiteCalendar,
  ) {
    this.#writer = new CourseWriter(period.course, terms);
  }

  look(moment: Moment): void {
    const { period, terms, calendar } = this;
    if (moment.logger === null) period.checks += 1;
    else period.readings += 1;
    feel(period.heat, moment, terms.longestGapMs);
    if (period.fromMs === null) return;
    const finding = findingOf(moment, period.course, terms);
    if (terms.requiredDays === null) lookByHours(this.#writer, finding, moment);
    else lookByDays(this.#writer, finding, moment, calendar, period.fromMs);
    this.#writer.watchPeak(finding, moment);
    this.#writer.watchMean(finding, moment);
    if (finding === 'held') period.course.graceTaken = false;
    for (let index = period.turns.length - 1; period.turns[index]?.atMs === moment.atMs; index -= 1) {
      const turn = period.turns[index];
      this.#heatTurn(turn);
      if (turn && finding === 'held') turn.cold = false;
    }
  }

  turn(atMs: number, kind: Turn['kind']): void {
    const { course, turns } = this.period;
    const turn: RecordedTurn = { atMs, kind, hot: null, cold: course.running && course.heldMs === null };
    turns.push(turn);
    if (!course.graceTaken) Object.assign(course, { turnedMs: atMs, graceTaken: true });
    this.#heatTurn(turn);
  }

  measure(atMs: number, percent: number): void {
    const { period, terms, calendar } = this;
    const { leastMoisturePercent, requiredDays } = terms;
    if (leastMoisturePercent === null || period.fromMs === null) return;
    period.measures.push({ atMs, percent });
    period.course.dry = percent < leastMoisturePercent;
    if (!period.course.dry) return;
    if (requiredDays !== null) openDay(this.#writer, atMs, calendar, period.fromMs).failed = true;
    this.#writer.noteDry(atMs, percent);
  }

  /** Nothing more comes before `toMs`, where the period ends or the verdict is asked for. */
  close(toMs: number): void {
    if (this.period.fromMs !== null) closeDay(this.#writer, this.period.fromMs, toMs);
  }

  #heatTurn(turn: RecordedTurn | undefined): void {
    if (turn === undefined || this.terms.hotMsBeforeTurn === null) return;
    const { stretches, heldMs, day } = this.period.course;
    const span = stretches.at(-1)?.spans.at(-1);
    const lately = heldMs !== null && turn.atMs - heldMs <= this.terms.longestGapMs;
    // A local day is credited when it is over: the run then reaches to where the day of the check began.
    const unbroken = span !== undefined && span.toMs === (day === null ? heldMs : day.startMs);
    turn.hot = lately && unbroken ? { ...span, stretch: stretches.length - 1 } : null;
  }
}
