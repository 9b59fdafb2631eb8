import { type FieldOptions, Nested, Pattern, Uuid } from '../http/dto/fields.js';
import { instantMs } from '../http/dto/time.js';
import { MassDto, VolumeDto } from '../http/dto/quantities.js';
import { keyOf, PageQuery } from '../http/dto/paging.js';
import { invalid } from '../http/problems/catalogue.js';

/** What is painted on a bay, a bucket or a scale. */
export const Label = (options: FieldOptions = {}) =>
  Pattern(/^[\p{L}\p{N}][\p{L}\p{N} ./_-]{0,23}$/u, 'a short code, such as "A1" or "B-07"', {
    example: 'B-07',
    ...options,
  });

// 02-29 begins no year.
const DAY_OF_EVERY_YEAR =
  /^((0[13578]|1[02])-(0[1-9]|[12]\d|3[01])|(0[469]|11)-(0[1-9]|[12]\d|30)|02-(0[1-9]|1\d|2[0-8]))$/;

/** On what day a year of somebody's own begins. */
export const DayOfEveryYear = (options: FieldOptions = {}) =>
  Pattern(DAY_OF_EVERY_YEAR, 'a month and day that every year has, such as "07-01"', {
    example: '07-01',
    ...options,
  });

/** A limit of a permit: a year's mass or a yard's stock is more than any one load. */
export const MassLimit = (options: FieldOptions = {}) => Nested(() => MassDto, options);
export const VolumeLimit = (options: FieldOptions = {}) => Nested(() => VolumeDto, options);

/** Lists of what belongs to a site, narrowed to one of them. */
export class SiteThingsQuery extends PageQuery {
  @Uuid({ optional: true, description: 'Only of this site' }) siteId?: string;
}

/** The day as the database keeps it. Refuses days that no calendar has. */
export function dayOf(text: string, pointer: string): Date {
  return new Date(instantMs(`${text}T00:00:00Z`, pointer));
}

export const dateText = (day: Date): string => day.toISOString().slice(0, 10);

/** Refuses what rounds to nothing: a bucket without room or a limit of zero is a slip. */
export function moreThanNothing(amount: number, pointer: string): number {
  if (amount > 0) return amount;
  throw invalid(pointer, 'must be more than nothing');
}

/** A place in a list that goes by site and then by code. */
export interface SiteKey {
  siteId: string;
  code: string;
}

export function siteKeyOf(cursor: string | undefined): SiteKey | null {
  const key = keyOf(cursor, 'id', 'text');
  return key && { siteId: String(key[0]), code: String(key[1]) };
}
