import { Temporal } from 'temporal-polyfill';
import { dayMs } from '#libs/quantities';
import { type LocalDay, oddDayOf, steadyAt, type Steady } from './zone-clock.js';

export type { LocalDay };

export { dayMs, hourMs } from '#libs/quantities';

const earliestMs = -62_135_596_800_000; // 0001-01-01T00:00:00Z
const latestMs = 253_402_214_400_000; // 9999-12-31T00:00:00Z
const mostDays = 1_000_000;
const months = ['Jan', 'Feb', 'Mar', 'Apr', 'May', 'Jun', 'Jul', 'Aug', 'Sep', 'Oct', 'Nov', 'Dec'] as const;

/** An instant as whole milliseconds within the years 1 to 9999, so that no calendar arithmetic can overflow. */
export function wholeMs(ms: number): number {
  // Adding 0 makes 0 of -0, which JSON would not keep.
  return Math.min(Math.max(Math.floor(ms), earliestMs), latestMs) + 0;
}

/** The local days and wall-clock times of one site. An unknown zone name is read as UTC, and `known` says so. */
export class SiteCalendar {
  readonly known: boolean;
  readonly #zone: string;
  #steady: Steady = { fromMs: Infinity, toMs: -Infinity, aheadMs: 0 };

  constructor(timeZone: string) {
    this.known = isZone(timeZone);
    this.#zone = this.known ? timeZone : 'UTC';
  }

  dayOf(ms: number): LocalDay {
    const { fromMs, toMs, aheadMs } = this.#steadyAt(ms);
    const startMs = Math.floor((ms + aheadMs) / dayMs) * dayMs - aheadMs;
    const endMs = startMs + dayMs;
    return fromMs < startMs && endMs < toMs ? { startMs, endMs } : oddDayOf(this.#zone, ms);
  }

  /** The same wall-clock time so many days later; part of a day is a whole one. */
  addDays(ms: number, days: number): number {
    const whole = Math.min(Math.max(Math.ceil(days), 0), mostDays);
    return this.#local(ms).add({ days: whole }).epochMilliseconds;
  }

  /** Whole local days from one instant to a later one. */
  daysBetween(fromMs: number, toMs: number): number {
    return this.#local(fromMs).until(this.#local(toMs), { largestUnit: 'days' }).days;
  }

  /** "3 May 2024 07:30". Built by hand because Intl's wording changes between releases, and sealed documents print it. */
  say(ms: number): string {
    return `${this.sayDay(ms)} ${this.#wall(ms).toISOString().slice(11, 16)}`;
  }

  /** "3 May 2024". */
  sayDay(ms: number): string {
    const wall = this.#wall(ms);
    return `${wall.getUTCDate()} ${months[wall.getUTCMonth()] ?? ''} ${wall.getUTCFullYear()}`;
  }

  /** "2024-05-03". */
  isoDay(ms: number): string {
    return this.#wall(ms).toISOString().slice(0, 10);
  }

  /** The wall clock of the site, read as though it were UTC. */
  #wall(ms: number): Date {
    return new Date(ms + this.#steadyAt(ms).aheadMs);
  }

  #steadyAt(ms: number): Steady {
    const steady = this.#steady;
    if (steady.fromMs <= ms && ms < steady.toMs) return steady;
    this.#steady = steadyAt(this.#zone, ms);
    return this.#steady;
  }

  #local(ms: number): Temporal.ZonedDateTime {
    return Temporal.Instant.fromEpochMilliseconds(ms).toZonedDateTimeISO(this.#zone);
  }
}

function isZone(name: string): boolean {
  try {
    Temporal.Instant.fromEpochMilliseconds(0).toZonedDateTimeISO(name);
    return true;
  } catch {
    return false;
  }
}
