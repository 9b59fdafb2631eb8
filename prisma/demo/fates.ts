import type { Temporal } from 'temporal-polyfill';
import type { Course } from './pile.js';

/** How one batch fares, and whether it lies in the bay of the logger. */
export interface Fate {
  course: Course;
  logged: boolean;
}

/** By yard and by the number of the batch in it: what goes wrong, so that there is something to learn from. */
const byNumber: Record<string, Partial<Record<number, Course>>> = {
  OO: { 4: 'never-heats', 8: 'interrupted', 12: 'contaminated' },
};

/**
 * What stands in the yards on the day of loading. Each range of ages, in days since the batch was begun, is as long as
 * the yard takes to build one, so that just one batch is in it whatever the day is.
 */
const standing = [
  { yard: 'OO', from: 39, to: 66, fate: { course: 'stalls-dry', logged: false } },
  { yard: 'RL', from: 9, to: 50, fate: { course: 'ammonia', logged: false } },
  { yard: 'RL', from: 51, to: 92, fate: { course: 'good', logged: true } },
] as const satisfies readonly { yard: string; from: number; to: number; fate: Fate }[];

/** So many days before the last the county amends its rule: before the batch in the logger's bay is begun. */
export const AMENDED_DAYS_AGO = 93;

/** The fate of the batch that a yard begins today, its `number`th, `ageAtLast` days before the story ends. */
export function fateOf(
  yard: string,
  number: number,
  today: Temporal.PlainDate,
  last: Temporal.PlainDate,
): Fate {
  const age = today.until(last).days;
  const now = standing.find((one) => one.yard === yard && age >= one.from && age <= one.to);
  return now?.fate ?? { course: byNumber[yard]?.[number] ?? 'good', logged: false };
}
