import type { SiteCalendar } from '../calendar.js';
import type { Span } from '../verdict.js';

export function inOrderOf<T>(items: readonly T[], atMs: (item: T) => number): T[] {
  return items.toSorted((a, b) => atMs(a) - atMs(b));
}

/** Neighbours that belong together, in order; every item is in one run. */
export function runsOf<T>(items: readonly T[], together: (before: T, item: T) => boolean): T[][] {
  const runs: T[][] = [];
  let before: T | undefined;
  for (const item of items) {
    const run = runs.at(-1);
    if (run && before !== undefined && together(before, item)) run.push(item);
    else runs.push([item]);
    before = item;
  }
  return runs;
}

/** "on 3 May 2024 07:30", or "from 3 May 2024 07:30 to 4 May 2024 08:00". */
export function saySpan({ fromMs, toMs }: Span, calendar: SiteCalendar): string {
  const from = calendar.say(fromMs);
  const to = calendar.say(toMs);
  return from === to ? `on ${from}` : `from ${from} to ${to}`;
}
