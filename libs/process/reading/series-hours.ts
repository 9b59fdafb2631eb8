import { hourMs } from '../calendar.js';
import type { LoggerSeries } from '../facts.js';

/** What a logger shows in one hour of UTC. */
export interface SeriesHour {
  readonly startMs: number;
  readonly instants: number;
  /** The lowest at the cold end; null where no probe says anything. */
  readonly lowestDeciC: number | null;
  /** The highest at the hot end. */
  readonly highestDeciC: number | null;
}

/** A logger hour by hour, for the eye: a year of readings, one a minute, becomes 8,760 hours. Hours without any are left out. */
export function hoursOf({ atMs, lowDeciC, highDeciC }: LoggerSeries): SeriesHour[] {
  const hours: SeriesHour[] = [];
  for (let from = 0; from < atMs.length;) {
    const startMs = Math.floor((atMs[from] ?? 0) / hourMs) * hourMs;
    let [to, lowest, highest] = [from, Infinity, -Infinity];
    for (; to < atMs.length && (atMs[to] ?? Infinity) < startMs + hourMs; to += 1) {
      lowest = Math.min(lowest, lowDeciC[to] ?? Infinity);
      highest = Math.max(highest, highDeciC[to] ?? -Infinity);
    }
    hours.push({
      ...{ startMs, instants: to - from },
      lowestDeciC: Number.isFinite(lowest) ? lowest : null,
      highestDeciC: Number.isFinite(highest) ? highest : null,
    });
    from = to;
  }
  return hours;
}
