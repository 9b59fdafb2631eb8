import { sumG } from '#libs/quantities';

/** What was taken in lately: whole days before today, and the grams of them. */
export interface RecentIntake {
  readonly days: number;
  readonly massG: number;
}

export interface MassUse {
  readonly usedG: number;
  readonly limitG: number | null;
  /** Null where there is no limit; below zero beyond it. */
  readonly leftG: number | null;
  /** 0 to 1 and beyond; null where there is no limit. */
  readonly share: number | null;
  /** What the period will have taken in at its end if it goes on as lately; null where nothing is known of lately. */
  readonly projectedG: number | null;
}

/**
 * How much of a limit of mass is used by now, and how much will be at the end of the period: what was used and, for each day
 * of it that is left after today, the mean of a day of `recent`. Whole grams; throws RangeError when a mass is no whole number
 * of zero or more.
 */
export function massUse(
  usedG: number,
  limitG: number | null,
  daysLeft: number,
  recent: RecentIntake,
): MassUse {
  const comingG = recent.days === 0 ? null : Math.round((sumG([recent.massG]) / recent.days) * daysLeft);
  return {
    usedG: sumG([usedG]),
    limitG,
    leftG: limitG === null ? null : limitG - usedG,
    share: limitG === null ? null : usedG / limitG,
    projectedG: comingG === null ? null : usedG + comingG,
  };
}
