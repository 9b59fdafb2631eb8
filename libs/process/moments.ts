import { wholeMs } from './calendar.js';
import type { Check } from './facts.js';
import type { Terms } from './terms.js';

/** What the checks of one instant show. */
export interface Moment {
  readonly atMs: number;
  /** Governing temperature at the cold end; Infinity when no probe says anything. */
  readonly lowDeciC: number;
  /** Governing temperature at the hot end; -Infinity when no probe says anything. */
  readonly highDeciC: number;
  /** As many probes, as deep, as the rule asks. Without it the moment can break a run but not earn one. */
  readonly enough: boolean;
  /** What was lacking, when not enough. */
  readonly lack: 'too-few-probes' | 'too-shallow';
  readonly checkId: string;
}

/** The way to judge a check: the part of a rule's terms that looks at probes. */
export type ProbeTerms = Pick<Terms, 'governing' | 'minimumProbes' | 'minimumDepthMm'>;

/**
 * Checks as moments in order of time. Checks of the same instant become one moment on which the worst of them stands,
 * so neither a check sent twice nor the order of two simultaneous ones can change a verdict.
 */
export function momentsOf(checks: readonly Check[], terms: ProbeTerms): Moment[] {
  const moments: Moment[] = [];
  for (const moment of inOrder(checks.map((check) => momentOf(check, terms)))) {
    const previous = moments.at(-1);
    if (previous?.atMs === moment.atMs) moments[moments.length - 1] = worseOf(previous, moment);
    else moments.push(moment);
  }
  return moments;
}

/** Sorted by time; a list already in order, as a logger's is, is passed on as it is. */
export function inOrder<T extends { readonly atMs: number }>(items: readonly T[]): readonly T[] {
  const ordered = items.every((item, index) => index === 0 || (items[index - 1]?.atMs ?? 0) <= item.atMs);
  return ordered ? items : items.toSorted((a, b) => a.atMs - b.atMs);
}

/**
 * Probes known to be too shallow are set aside, hot or cold: they measure what the rule does not ask about. Probes of
 * unknown depth cannot be counted, yet what they show can only count against the batch, never for it.
 */
function momentOf(check: Check, terms: ProbeTerms): Moment {
  const counted = new Probes();
  const heard = new Probes();
  for (const { depthMm, temperatureDeciC } of check.readings) {
    if (terms.minimumDepthMm !== null && depthMm !== null && depthMm < terms.minimumDepthMm) continue;
    heard.add(temperatureDeciC);
    if (terms.minimumDepthMm === null || depthMm !== null) counted.add(temperatureDeciC);
  }
  return {
    atMs: wholeMs(check.occurredAtMs),
    lowDeciC: Math.min(counted.low(terms.governing), heard.low(terms.governing)),
    highDeciC: Math.max(counted.high(terms.governing), heard.high(terms.governing)),
    enough: counted.count >= terms.minimumProbes,
    lack: check.readings.length < terms.minimumProbes ? 'too-few-probes' : 'too-shallow',
    checkId: check.id,
  };
}

function worseOf(a: Moment, b: Moment): Moment {
  return {
    ...(isColder(a, b) ? a : b),
    highDeciC: Math.max(a.highDeciC, b.highDeciC),
    enough: a.enough || b.enough,
  };
}

/** Of two as cold the one named in the evidence is fixed, so that it does not depend on the order of the facts. */
function isColder(a: Moment, b: Moment): boolean {
  return a.lowDeciC === b.lowDeciC ? a.checkId <= b.checkId : a.lowDeciC < b.lowDeciC;
}

class Probes {
  count = 0;
  #sum = 0;
  #min = Infinity;
  #max = -Infinity;

  add(deciC: number): void {
    this.count += 1;
    this.#sum += deciC;
    this.#min = Math.min(this.#min, deciC);
    this.#max = Math.max(this.#max, deciC);
  }

  low(governing: Terms['governing']): number {
    return governing === 'mean' && this.count > 0 ? this.#sum / this.count : this.#min;
  }

  high(governing: Terms['governing']): number {
    return governing === 'mean' && this.count > 0 ? this.#sum / this.count : this.#max;
  }
}
