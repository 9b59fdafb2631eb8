import type { Course, Finding, Stretch } from './course.js';
import { join } from './course.js';
import { extendIncident, openIncident } from './incidents.js';
import { beginMean, extendMean } from './mean-window.js';
import type { Moment } from './moments.js';
import { reaches, type Terms } from './terms.js';

/** Writes a course down, moment by moment, in order of time. */
export class CourseWriter {
  constructor(
    readonly course: Course,
    readonly terms: Terms,
  ) {}

  get running(): Stretch | null {
    return this.course.running ? (this.course.stretches.at(-1) ?? null) : null;
  }

  /** The stretch goes on to this moment, or begins at it. */
  hold(moment: Moment): void {
    const stretch = this.running ?? this.#begin(moment.atMs);
    stretch.toMs = moment.atMs;
    this.course.heldMs = moment.atMs;
  }

  credit(fromMs: number, toMs: number): void {
    join(this.running?.spans ?? [], fromMs, toMs);
  }

  creditDay(startMs: number, endMs: number): void {
    this.credit(startMs, endMs);
    this.running?.dayEndsMs.push(endMs);
  }

  /** Notes what spoke against a moment; every moment is noted, before anything is made of it. */
  note(finding: Finding, moment: Moment): void {
    const { course } = this;
    if (finding !== 'held') {
      let incident = finding === course.previous ? course.incidents.at(-1) : undefined;
      if (incident === undefined) {
        incident = openIncident(finding, moment.atMs, moment.atMs);
        course.incidents.push(incident);
      }
      extendIncident(incident, finding, moment);
    }
    course.previous = finding;
  }

  /** A measure of too little water breaks a run as a cold check does, and dries every check until a better one. */
  noteDry(atMs: number, percent: number): void {
    const { course } = this;
    const last = course.previous === 'too-dry' ? course.incidents.at(-1) : undefined;
    if (last === undefined) {
      course.incidents.push({ ...openIncident('too-dry', atMs, atMs), extreme: percent });
    } else {
      Object.assign(last, { toMs: atMs, extreme: Math.min(last.extreme ?? percent, percent) });
    }
    course.previous = 'too-dry';
    this.breakOff();
  }

  /** The last incident noted broke the stretch, if one was running. */
  breakOff(): void {
    const { course, running } = this;
    if (running !== null) running.endedBy = course.incidents.length - 1;
    Object.assign(course, { running: false, heldMs: null, peakMs: null, mean: null });
  }

  gap(fromMs: number, toMs: number): void {
    this.course.incidents.push(openIncident('gap', fromMs, toMs));
    this.course.previous = null;
    this.breakOff();
  }

  /** Time at the higher level, by the same pairs of checks. What is not enough to earn it can still break it. */
  watchPeak(finding: Finding, { atMs, lowDeciC }: Moment): void {
    const { course, terms, running } = this;
    if (terms.peak === null) return;
    if (!reaches(lowDeciC, terms.peak)) {
      course.peakMs = null;
    } else if (finding === 'held' && running !== null) {
      const { peakMs } = course;
      if (peakMs !== null && atMs - peakMs <= terms.longestGapMs) join(running.peaks, peakMs, atMs);
      course.peakMs = atMs;
    }
  }

  watchMean(finding: Finding, { atMs, lowDeciC }: Moment): void {
    const { course, terms, running } = this;
    if (terms.average === null || running === null) return;
    if (course.mean === null) {
      if (finding === 'held') course.mean = beginMean(atMs, lowDeciC);
    } else if (finding === 'held') {
      const mean = extendMean(course.mean, atMs, lowDeciC, terms.average, terms.requiredMs);
      running.meanAtMs ??= mean.metAtMs;
      running.meanDeciC = mean.meanDeciC;
    } else {
      course.mean.coldestDeciC = Math.min(course.mean.coldestDeciC, lowDeciC);
    }
  }

  #begin(atMs: number): Stretch {
    const stretch: Stretch = {
      fromMs: atMs,
      toMs: atMs,
      spans: [],
      dayEndsMs: [],
      peaks: [],
      meanAtMs: null,
      meanDeciC: null,
      endedBy: null,
    };
    this.course.stretches.push(stretch);
    this.course.running = true;
    return stretch;
  }
}
