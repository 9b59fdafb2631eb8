import type { TestApi } from './api.js';
import { made, PASSWORD, type Programme } from './programme.js';

const lb = (value: number) => ({ value, unit: 'lb' });

/** Loads of a made-up year, July 2025 to June 2026, in pounds: 27,880.0 lb, which print as 13.94 short tons. */
export const LOADS: readonly (readonly [day: string, pounds: number])[] = [
  ['2025-07-12', 4_210.5],
  ['2025-09-03', 5_033.2],
  ['2025-11-20', 3_900.8],
  ['2026-01-14', 6_101.7],
  ['2026-03-08', 4_333.8],
  ['2026-06-30', 4_300],
];
/** One row that was left out: with it they are 27,939.0 lb, 13.97 short tons. */
export const LATE = ['2026-02-09', 59] as const;

export const lotOf = (programme: Programme, [day, pounds]: readonly [string, number]) => ({
  ...{ siteId: programme.hub1.id, occurredAt: `${day}T12:00:00-07:00`, material: 'food-scraps' },
  ...{ depositor: 'household', weight: { net: lb(pounds) } },
});

export async function bringLoads(api: TestApi, programme: Programme): Promise<string[]> {
  const ids: string[] = [];
  for (const load of LOADS) {
    ids.push((await made<{ id: string }>(api, '/drop-offs', lotOf(programme, load))).id);
  }
  return ids;
}

export const issueBody = (programme: Programme) => ({
  jurisdictionId: programme.jurisdictions.larkHollow.id,
  yearOf: '2026-01-01',
  password: PASSWORD,
});
