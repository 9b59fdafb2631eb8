import type { SiteCalendar } from './calendar.js';
import type { Incident, Stretch } from './course.js';
import type { Addition, History, Inheritance } from './history.js';
import { creditedDays, creditedMs, standingTurns, type Outcome } from './outcome.js';
import type { Terms } from './terms.js';
import type { TurnOutcome } from './turns.js';
import type { Span } from './verdict.js';
import { sayCount, sayHours, sayList, sayTemperature, type Rounding } from './words.js';

/** The sentences of the evidence, for one rule at one site. */
export class Sentences {
  readonly consecutive: boolean;
  readonly #terms: Terms;
  readonly #calendar: SiteCalendar;
  readonly #threshold: string;
  readonly #probe: string;
  readonly #hotProbe: string;

  constructor(terms: Terms, calendar: SiteCalendar) {
    this.consecutive = terms.reading === 'consecutive';
    this.#terms = terms;
    this.#calendar = calendar;
    this.#threshold = sayTemperature(terms.thresholdDeciC);
    this.#probe = terms.governing === 'mean' ? 'mean of the probes' : 'coldest probe';
    this.#hotProbe = terms.governing === 'mean' ? 'mean of the probes' : 'hottest probe';
  }

  lastAddition({ atMs, what }: Addition, { moments, turns }: History): string {
    const checks = moments.filter((moment) => moment.atMs < atMs).length;
    const turned = turns.filter((turn) => turn.atMs < atMs).length;
    const earlier = [
      ...(checks === 0 ? [] : [sayCount(checks, 'check')]),
      ...(turned === 0 ? [] : [sayCount(turned, 'turn')]),
    ];
    const unused = earlier.length === 0 ? '' : ` Not counted, being earlier: ${sayList(earlier)}.`;
    return `Raw material last went in on ${this.#at(atMs)}: ${sayList(what)}. Time counts from here on at the earliest.${unused}`;
  }

  restarted({ atMs, what }: Addition, before: Outcome): string {
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

  ahead(checks: number): string {
    return `${sayCount(checks, 'check')} dated later than this verdict: left out.`;
  }

  started(atMs: number): string {
    return `${this.#at(atMs)}: first check at or above ${this.#threshold} since the last raw material. Counting starts.`;
  }

  startedAnew(atMs: number): string {
    return `${this.#at(atMs)}: at or above ${this.#threshold} again. Counting starts anew.`;
  }

  credited(span: Span): string {
    if (this.#terms.requiredDays !== null) {
      return `Credited: the local days from ${this.#calendar.sayDay(span.fromMs)} to ${this.#calendar.sayDay(span.toMs - 1)}. Every check that counts on them held ${this.#threshold} or more.`;
    }
    return `Credited: ${sayHours(span.toMs - span.fromMs)}, from ${this.#at(span.fromMs)} to ${this.#at(span.toMs)}. Every check that counts held ${this.#threshold} or more.`;
  }

  incident(incident: Incident): string {
    const { kind, fromMs, toMs, checks } = incident;
    const when =
      checks > 1
        ? `${checks} checks from ${this.#at(fromMs)} to ${this.#at(toMs)}`
        : `The check of ${this.#at(fromMs)}`;
    switch (kind) {
      case 'gap':
        return this.#gap(fromMs, toMs);
      case 'below-threshold':
        return `${when}: ${this.#reached(incident, this.#probe, 'down')}, below ${this.#threshold}.`;
      case 'above-limit':
        return `${when}: ${this.#reached(incident, this.#hotProbe, 'up')}, above the rule's limit of ${sayTemperature(this.#terms.upperLimitDeciC)}.`;
      case 'after-turn':
        return `${when}: ${this.#reached(incident, this.#probe, 'down')}, within ${sayHours(this.#terms.graceMs)} of a turn. No time is credited around it, and it breaks nothing.`;
      case 'implausible':
        return `${when}: a probe hotter than boiling water. Look at the probe and its unit. Counted neither for nor against the batch.`;
      case 'too-few-zones':
        return `${when}: fewer zones than the ${this.#terms.minimumZones} asked for, so it counts for nothing.`;
      case 'too-few-probes':
        return `${when}: fewer probes than the ${this.#terms.minimumProbes} asked for, so it counts for nothing.`;
      case 'too-shallow':
        return `${when}: fewer than ${sayCount(this.#terms.minimumProbes, 'probe')} known to be at ${(this.#terms.minimumDepthMm ?? 0) / 10} cm or deeper, so it counts for nothing.`;
    }
  }

  /** What a broken stretch cost; nothing is lost where time is added up. */
  broken(stretch: Stretch, turns: number): string {
    if (!this.consecutive) return '';
    const lost = stretch.spans.length > 0 || turns > 0 ? ` Lost: ${this.#sum([stretch], turns)}.` : '';
    return ` This breaks the run that began on ${this.#at(stretch.fromMs)}.${lost}`;
  }

  silence(lastShownMs: number): string {
    return `No check that counts since ${this.#at(lastShownMs)}: whether the batch stayed hot is not shown.`;
  }

  turn({ atMs, kind, stretch, number }: TurnOutcome, outcome: Outcome): string {
    const done = `${kind === 'move' ? 'Moved, which turns it,' : 'Turned'} on ${this.#at(atMs)}`;
    if (number !== null) return `${done}: turn ${number} of the ${this.#terms.turns} asked for.`;
    if (stretch !== null) {
      const spacing = this.#terms.turnSpacingMs;
      return spacing === 0
        ? `${done}: already counted.`
        : `${done}: not counted, less than ${sayHours(spacing)} after the last counted turn.`;
    }
    const last = outcome.stretches.at(-1);
    const open = last?.endedBy === null && atMs > last.toMs;
    return open
      ? `${done}: not counted yet, because no later check shows that the batch was still hot.`
      : `${done}: not counted, because checks before and after it do not both show ${this.#threshold} or more.`;
  }

  met(metAtMs: number): string {
    const { requiredDays, requiredMs, turns } = this.#terms;
    const time = requiredDays === null ? sayHours(requiredMs) : sayCount(requiredDays, 'local day');
    const asked = turns === 0 ? time : `${time} and ${sayCount(turns, 'turn')}`;
    return `The rule's recorded criteria (${asked} at ${this.#threshold} or more) were met on ${this.#at(metAtMs)}.`;
  }

  #gap(fromMs: number, toMs: number): string {
    if (this.#terms.requiredDays !== null) {
      return `No check that counts from ${this.#calendar.sayDay(fromMs)} to ${this.#calendar.sayDay(toMs - 1)}: those days are not shown.`;
    }
    return `No check that counts between ${this.#at(fromMs)} and ${this.#at(toMs)}, ${sayHours(toMs - fromMs)} apart where at most ${sayHours(this.#terms.longestGapMs)} are credited: that time is not shown.`;
  }

  #reached({ checks, extremeDeciC }: Incident, probe: string, direction: Rounding): string {
    if (extremeDeciC === null) return probe;
    return `${probe} ${checks > 1 ? `${direction} to ` : ''}${sayTemperature(extremeDeciC, direction)}`;
  }

  #sum(stretches: readonly Stretch[], turns: number): string {
    const daily = this.#terms.requiredDays !== null;
    const time = daily ? sayCount(creditedDays(stretches), 'local day') : sayHours(creditedMs(stretches));
    return turns === 0 ? time : `${time} and ${sayCount(turns, 'turn')}`;
  }

  #at(ms: number): string {
    return this.#calendar.say(ms);
  }
}
