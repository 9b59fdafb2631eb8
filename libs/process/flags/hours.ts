import { hourMs } from '../calendar.js';
import type { Span } from '../verdict.js';
import { inOrderOf } from './stretches.js';

/** What one probe of a logger showed in an hour. */
export interface ProbeHour {
  readonly probe: string;
  /** Where the hour begins. */
  readonly atMs: number;
  readonly readings: number;
  readonly minDeciC: number;
  readonly maxDeciC: number;
  readonly meanDeciC: number;
}

export interface LoggerHours {
  /** As it is named at the yard: "L-2". */
  readonly logger: string;
  /** In any order; hours without readings are left out. */
  readonly hours: readonly ProbeHour[];
}

/** One probe, its hours in order of time. */
export interface Probe {
  readonly name: string;
  readonly hours: readonly ProbeHour[];
}

export function probesOf({ hours }: LoggerHours): Probe[] {
  const byName = new Map<string, ProbeHour[]>();
  for (const hour of inOrderOf(hours, ({ atMs }) => atMs)) {
    const some = byName.get(hour.probe);
    if (some) some.push(hour);
    else byName.set(hour.probe, [hour]);
  }
  return [...byName]
    .map(([name, some]) => ({ name, hours: some }))
    .toSorted((a, b) => (a.name < b.name ? -1 : 1));
}

export function spanOf(run: readonly ProbeHour[]): Span {
  const fromMs = run[0]?.atMs ?? 0;
  return { fromMs, toMs: (run.at(-1)?.atMs ?? fromMs) + hourMs };
}

export function readingsOf(run: readonly ProbeHour[]): number {
  return run.reduce((sum, { readings }) => sum + readings, 0);
}
