import { dayMs, SiteCalendar, wholeMs } from '../calendar.js';
import type { ObservedCheck } from '../observed.js';
import { sayLook, sayShown } from '../observed-words.js';
import { sayTemperature } from '../words.js';
import type { AdviceFacts } from './facts.js';
import { limits } from './limits.js';

/** Where a probe stood, or several of one zone by their mean. */
export interface Place {
  readonly name: string;
  readonly deciC: number;
}

/** The hottest place, and when it was read. */
export interface Hottest {
  readonly atMs: number;
  readonly check: ObservedCheck;
  readonly hottest: Place;
}

/** A check, or what a logger showed, as advice looks at it. */
export interface Visit extends Hottest {
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
  /**
   * The hottest of what positions showed when each was last read, within a day before the last check. A cool reading at one
   * position says nothing of another, so only the same position, read later, shows that it has cooled.
   */
  readonly standing: Hottest | null;
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
    this.standing = standingOf(this.visits);
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
    return last !== undefined && this.nowMs - last.atMs <= limits.freshDays.at * dayMs ? last : null;
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

  /** "Check of …" or "Logger L-2 on …", which begins a sentence. */
  of({ check }: Hottest): string {
    return sayLook(this.calendar, check);
  }

  /** "at the check of …" or "as logger L-2 showed on …", after a figure and a comma. */
  shown({ check }: Hottest): string {
    return sayShown(this.calendar, check);
  }

  hottest(found: Hottest): string {
    const { hottest } = found;
    return `${this.of(found)}: hottest probe, ${hottest.name}, ${sayTemperature(hottest.deciC, 'up')}.`;
  }

  #instants(items: readonly { readonly occurredAtMs: number }[]): number[] {
    return items
      .map(({ occurredAtMs }) => wholeMs(occurredAtMs))
      .filter((ms) => ms <= this.nowMs)
      .toSorted((a, b) => a - b);
  }
}

/** By the last reading of each position; the hottest where one instant has several. */
function standingOf(visits: readonly Visit[]): Hottest | null {
  const sinceMs = (visits.at(-1)?.atMs ?? 0) - dayMs;
  const lastRead = new Map<string, Hottest>();
  for (const { atMs, check } of visits) {
    if (atMs < sinceMs) continue;
    for (const { position, temperatureDeciC } of check.readings) {
      const before = lastRead.get(position);
      if (before?.atMs === atMs && before.hottest.deciC >= temperatureDeciC) continue;
      lastRead.set(position, { atMs, check, hottest: { name: position, deciC: temperatureDeciC } });
    }
  }
  return [...lastRead.values()].reduce<Hottest | null>(
    (most, read) => (most === null || read.hottest.deciC > most.hottest.deciC ? read : most),
    null,
  );
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
