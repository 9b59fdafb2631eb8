import type { SiteCalendar } from '../calendar.js';
import { sayDemands } from './condition-sentences.js';
import type { Broken, Incident, Stretch } from '../reading/course.js';
import { sayIncident } from './incident-sentences.js';
import type { Ahead } from '../reading/looks.js';
import { creditedDays, creditedMs, standingTurns, type Outcome } from '../outcome/outcome.js';
import type { Addition, Inheritance, ProcessState } from '../reading/process-state.js';
import type { Terms } from '../reading/terms.js';
import type { TurnOutcome } from '../outcome/turns.js';
import type { Span } from '../verdict.js';
import { sayCount, sayHours, sayLevel, sayList, sayReached, sayTemperature } from '../words.js';

/** The sentences of the evidence, for one rule at one site. */
export class Sentences {
  readonly consecutive: boolean;
  /** What the batch was looked at with. */
  readonly #look: string;

  constructor(
    readonly terms: Terms,
    readonly calendar: SiteCalendar,
    loggers: boolean,
  ) {
    this.consecutive = terms.reading === 'consecutive';
    this.#look = loggers ? 'check or reading' : 'check';
  }

  lastAddition({ atMs, what }: Addition, { checks, readings, turns }: ProcessState['earlier']): string {
    const earlier = [
      ...(checks === 0 ? [] : [sayCount(checks, 'check')]),
      ...(readings === 0 ? [] : [sayCount(readings, 'logger reading')]),
      ...(turns === 0 ? [] : [sayCount(turns, 'turn')]),
    ];
    const unused = earlier.length === 0 ? '' : ` Not counted, being earlier: ${sayList(earlier)}.`;
    return `Raw material last went in on ${this.#at(atMs)}: ${sayList(what)}. Time counts from here on at the earliest.${unused}`;
  }

  restarted({ atMs, what }: Pick<Addition, 'atMs' | 'what'>, before: Outcome): string {
    const went = `Raw material went in on ${this.#at(atMs)}: ${sayList(what)}.`;
    if (before.metAtMs !== null) {
      return `${went} The rule had been met on ${this.#at(before.metAtMs)}, but the batch now holds material that has not met it: counting starts again.`;
    }
    return `${went} Counting starts again. Lost: ${this.#sum(before.standing, standingTurns(before))}.`;
  }

  merged({ atMs, code, metAtMs }: Inheritance): string {
    return `Batch ${code} was merged in on ${this.#at(atMs)}. It had met the rule on ${this.#at(metAtMs)}.`;
  }

  inherited(metAtMs: number): string {
    return `Everything in this batch came from batches that had each met the rule, the last of them on ${this.#at(metAtMs)}.`;
  }

  ahead({ checks, readings }: Ahead): string {
    const what = [
      ...(checks === 0 ? [] : [sayCount(checks, 'check')]),
      ...(readings === 0 ? [] : [sayCount(readings, 'logger reading')]),
    ];
    return `${sayList(what)} dated later than this verdict: left out.`;
  }

  started(atMs: number): string {
    return `${this.#at(atMs)}: first ${this.#look} ${sayReached(this.terms.level)} since the last raw material. Counting starts.`;
  }

  startedAnew(atMs: number): string {
    return `${this.#at(atMs)}: ${sayReached(this.terms.level)} again. Counting starts anew.`;
  }

  credited({ fromMs, toMs }: Span): string {
    if (this.terms.requiredDays !== null) {
      return `Credited: the local days from ${this.calendar.sayDay(fromMs)} to ${this.calendar.sayDay(toMs - 1)}. Every ${this.#look} that counts on them ${this.#held()}.`;
    }
    return `Credited: ${sayHours(toMs - fromMs)}, from ${this.#at(fromMs)} to ${this.#at(toMs)}. Every ${this.#look} that counts ${this.#held()}.`;
  }

  startedOften(starts: readonly Span[]): string {
    return `${this.#often(starts)}: ${sayReached(this.terms.level)} again, and each time counting starts anew.`;
  }

  creditedOften(spans: readonly Span[]): string {
    const ms = spans.reduce((sum, { fromMs, toMs }) => sum + toMs - fromMs, 0);
    return `Credited: ${sayHours(ms)} in ${sayCount(spans.length, 'span')} that begin on ${this.calendar.sayDay(spans[0]?.fromMs ?? 0)}. Every ${this.#look} that counts in them ${this.#held()}.`;
  }

  incident(incident: Incident): string {
    return sayIncident(incident, this.terms, this.calendar, this.#look);
  }

  incidents(whole: Incident, times: number): string {
    return times === 1
      ? this.incident(whole)
      : `${this.incident(whole)} So it was ${times} times, told together.`;
  }

  /** What a broken stretch cost; nothing is lost where time is added up. */
  broken(broken: Broken | null): string {
    if (!this.consecutive || broken === null) return '';
    const { stretch, turns, lost } = broken;
    const breaks = ` This breaks the run that began on ${this.#at(stretch.fromMs)}.`;
    if (!lost) return `${breaks} What it had by then stands: ${this.#sum([stretch], turns)}.`;
    const anything = stretch.spans.length > 0 || turns > 0;
    return anything ? `${breaks} Lost: ${this.#sum([stretch], turns)}.` : breaks;
  }

  brokenOften(broken: readonly Broken[]): string {
    if (!this.consecutive || broken.length === 0) return '';
    const lost = broken.filter((each) => each.lost);
    const turns = lost.reduce((sum, each) => sum + each.turns, 0);
    const stretches = lost.map(({ stretch }) => stretch);
    return ` This breaks ${sayCount(broken.length, 'run')}. Lost: ${this.#sum(stretches, turns)}.`;
  }

  silence(lastShownMs: number): string {
    return `No ${this.#look} that counts since ${this.#at(lastShownMs)}: whether the batch stayed hot is not shown.`;
  }

  turn({ atMs, kind, stretch, number, lack }: TurnOutcome, outcome: Outcome): string {
    const { terms } = this;
    const done = `${kind === 'move' ? 'Moved, which turns it,' : 'Turned'} on ${this.#at(atMs)}`;
    if (number !== null && number > terms.turns)
      return `${done}: turn ${number}, where ${terms.turns} are asked for.`;
    if (number !== null) return `${done}: turn ${number} of the ${terms.turns} asked for.`;
    if (lack === 'too-soon') {
      return terms.turnSpacingMs === 0
        ? `${done}: already counted.`
        : `${done}: not counted, less than ${sayHours(terms.turnSpacingMs)} after the last counted turn.`;
    }
    if (terms.hotMsBeforeTurn !== null) {
      return `${done}: not counted, because less than ${sayHours(terms.hotMsBeforeTurn)} without a break is shown before it, since the last counted turn.`;
    }
    const last = outcome.stretches.at(-1);
    return stretch === null && last?.endedBy === null && atMs > last.toMs
      ? `${done}: not counted yet, because no later ${this.#look} shows that the batch was still hot.`
      : `${done}: not counted, because checks before and after it do not both show ${this.#heat()}.`;
  }

  met(metAtMs: number): string {
    const asked = [`${this.#asked()} ${sayLevel(this.terms.level)}`, ...sayDemands(this.terms)];
    return `The rule's recorded criteria (${asked.join('; ')}) were met on ${this.#at(metAtMs)}.`;
  }

  /** Time and turns are there, and something else is not. */
  wanting(readyAtMs: number, condition: string): string {
    return `${this.#asked()} were there on ${this.#at(readyAtMs)}, which is not all the rule asks. ${condition}`;
  }

  #often(instants: readonly Span[]): string {
    return `${sayCount(instants.length, 'time')} from ${this.#at(instants[0]?.fromMs ?? 0)} to ${this.#at(instants.at(-1)?.fromMs ?? 0)}`;
  }

  #asked(): string {
    const { requiredDays, requiredMs, turns } = this.terms;
    const time = requiredDays === null ? sayHours(requiredMs) : sayCount(requiredDays, 'local day');
    return turns === 0 ? time : `${time} and ${sayCount(turns, 'turn')}`;
  }

  #held(): string {
    return this.terms.level.strict ? `was ${sayLevel(this.terms.level)}` : `held ${this.#heat()}`;
  }

  #heat(): string {
    const { thresholdDeciC, strict } = this.terms.level;
    return strict
      ? `more than ${sayTemperature(thresholdDeciC)}`
      : `${sayTemperature(thresholdDeciC)} or more`;
  }

  #sum(stretches: readonly Stretch[], turns: number): string {
    const daily = this.terms.requiredDays !== null;
    const time = daily ? sayCount(creditedDays(stretches), 'local day') : sayHours(creditedMs(stretches));
    return turns === 0 ? time : `${time} and ${sayCount(turns, 'turn')}`;
  }

  #at(ms: number): string {
    return this.calendar.say(ms);
  }
}
