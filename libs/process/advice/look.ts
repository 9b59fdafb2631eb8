import { SiteCalendar, wholeMs } from '../calendar.js';
import type { ObservedCheck } from '../observed.js';
import { sayTemperature } from '../words.js';
import type { AdviceFacts } from './facts.js';

export const dayMs = 86_400_000;
/** What was seen longer ago says little of today. */
const freshDays = 14;

/** Where a probe stood, or several of one zone by their mean. */
export interface Place {
  readonly name: string;
  readonly deciC: number;
}

/** A check as advice looks at it. */
export interface Visit {
  readonly atMs: number;
  readonly check: ObservedCheck;
  readonly hottest: Place;
  /** Coolest and warmest place, zones by their mean. */
  readonly coolest: Place;
  readonly warmest: Place;
}

/** The facts of a batch up to now, in order of time. */
export class Look {
  readonly nowMs: number;
  readonly calendar: SiteCalendar;
  readonly visits: readonly Visit[];
  readonly last: Visit | null;
  /** When raw material last went in. */
  readonly lastRawMs: number | null;
  readonly #turnsMs: readonly number[];
  readonly #wateringsMs: readonly number[];

  constructor(
    readonly facts: AdviceFacts,
    nowMs: number,
  ) {
    this.nowMs = wholeMs(nowMs);
    this.calendar = new SiteCalendar(facts.timeZone);
    this.visits = facts.checks
      .flatMap((check) => visitOf(check))
      .filter(({ atMs }) => atMs <= this.nowMs)
      .toSorted((a, b) => a.atMs - b.atMs || (a.check.id < b.check.id ? -1 : 1));
    this.last = this.visits.at(-1) ?? null;
    this.lastRawMs = this.#instants(facts.rawAdditions).at(-1) ?? null;
    this.#turnsMs = this.#instants(facts.turns);
    this.#wateringsMs = this.#instants(facts.waterings);
  }

  /** Checks since raw material last went in; all of them where none is recorded. */
  get sinceRaw(): readonly Visit[] {
    const fromMs = this.lastRawMs ?? -Infinity;
    return this.visits.filter(({ atMs }) => atMs >= fromMs);
  }

  get lastTurnMs(): number | null {
    return this.#turnsMs.at(-1) ?? null;
  }

  /** The latest check of the last fortnight that noted something; null where none did. */
  noted(what: (check: ObservedCheck) => boolean): Visit | null {
    const last = this.visits.findLast(({ check }) => what(check));
    return last !== undefined && this.nowMs - last.atMs <= freshDays * dayMs ? last : null;
  }

  /** The last turn or watering after an instant; null where there was none. */
  turnedAfter(ms: number): number | null {
    return this.#turnsMs.findLast((atMs) => atMs > ms) ?? null;
  }

  wateredAfter(ms: number): number | null {
    return this.#wateringsMs.findLast((atMs) => atMs > ms) ?? null;
  }

  at(ms: number): string {
    return this.calendar.say(ms);
  }

  hottest({ atMs, hottest }: Visit): string {
    return `Check of ${this.at(atMs)}: hottest probe, ${hottest.name}, ${sayTemperature(hottest.deciC, 'up')}.`;
  }

  #instants(items: readonly { readonly occurredAtMs: number }[]): number[] {
    return items
      .map(({ occurredAtMs }) => wholeMs(occurredAtMs))
      .filter((ms) => ms <= this.nowMs)
      .toSorted((a, b) => a - b);
  }
}

/** A check without a probe shows no heat, and is not looked at. */
function visitOf(check: ObservedCheck): Visit[] {
  const probes = check.readings.map(({ position, temperatureDeciC }) => ({
    name: position,
    deciC: temperatureDeciC,
  }));
  const hottest = warmestOf(probes);
  const places = placesOf(check);
  const warmest = warmestOf(places);
  const coolest = warmestOf(places.map((place) => ({ ...place, deciC: -place.deciC })));
  if (!hottest || !warmest || !coolest) return [];
  return [
    {
      ...{ atMs: wholeMs(check.occurredAtMs), check, hottest, warmest },
      coolest: { ...coolest, deciC: -coolest.deciC },
    },
  ];
}

function warmestOf(places: readonly Place[]): Place | null {
  return places.reduce<Place | null>(
    (most, place) => (most === null || place.deciC > most.deciC ? place : most),
    null,
  );
}

function placesOf({ readings }: ObservedCheck): Place[] {
  const zones = new Map<string, number[]>();
  for (const { zone, position, temperatureDeciC } of readings) {
    const name = zone ?? position;
    zones.set(name, [...(zones.get(name) ?? []), temperatureDeciC]);
  }
  return [...zones].map(([name, deciC]) => ({
    name,
    deciC: Math.round(deciC.reduce((sum, each) => sum + each, 0) / deciC.length),
  }));
}
