import { SiteCalendar } from '../calendar.js';
import { costOf } from '../evidence/evidence.js';
import type { Happening } from './happenings.js';
import type { Moment } from './moments.js';
import { type Outcome, outcomeOf, outcomeWithoutRaw } from '../outcome/outcome.js';
import { newPeriod, PeriodReader } from './period.js';
import type { ProcessState } from './process-state.js';
import { Sentences } from '../evidence/sentences.js';
import { termsOf, type Terms } from './terms.js';

/** Reads a state on, in order of time. It changes the state it is given. */
export class ProcessReader {
  readonly terms: Terms;
  readonly calendar: SiteCalendar;
  #period: PeriodReader;

  constructor(readonly state: ProcessState) {
    this.terms = termsOf(state.rule, state.reading);
    this.calendar = new SiteCalendar(state.timeZone);
    this.#period = new PeriodReader(state.period, this.terms, this.calendar);
  }

  look(moment: Moment): void {
    this.#period.look(moment);
  }

  happen(happening: Happening): void {
    switch (happening.kind) {
      case 'addition':
        this.#add(happening.atMs, happening.what);
        break;
      case 'inherited':
        this.#inherit(happening);
        break;
      case 'measure':
        this.#period.measure(happening.atMs, happening.percent);
        break;
      case 'turn':
        this.#period.turn(happening.atMs, happening.turned);
        break;
    }
  }

  /** Nothing more comes before `toMs`. */
  close(toMs: number): void {
    this.#period.close(toMs);
  }

  #add(atMs: number, what: readonly string[]): void {
    const { state, terms, calendar } = this;
    const { addition } = state;
    if (addition?.cost) state.told.push(addition.cost);
    this.close(atMs);
    const cost = costOf({ atMs, what }, this.#outcomeBefore(atMs), new Sentences(terms, calendar, false));
    state.addition = { atMs, what, cost };
    this.#startPeriod(atMs);
  }

  /** What merged in at the very instant of the first raw material was part of one batch with it, and had no verdict to lose. */
  #outcomeBefore(atMs: number): Outcome {
    const { addition, period, carbonToNitrogen, inherited } = this.state;
    if (addition !== null) return outcomeOf(period, carbonToNitrogen, this.terms, this.calendar);
    return outcomeWithoutRaw(inherited.filter((batch) => batch.atMs < atMs).map((batch) => batch.metAtMs));
  }

  /** A batch that had met the rule changes nothing, but where nothing raw went in it is all there is. */
  #inherit({ atMs, code, metAtMs }: Extract<Happening, { kind: 'inherited' }>): void {
    this.state.inherited.push({ atMs, code, metAtMs });
    if (this.state.addition === null) this.#startPeriod(null);
  }

  #startPeriod(fromMs: number | null): void {
    const { checks, readings, turns } = this.state.period;
    const { earlier } = this.state;
    this.state.earlier = {
      checks: earlier.checks + checks,
      readings: earlier.readings + readings,
      turns: earlier.turns + turns.length,
    };
    this.state.period = newPeriod(fromMs);
    this.#period = new PeriodReader(this.state.period, this.terms, this.calendar);
  }
}
