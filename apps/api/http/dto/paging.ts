import { Transform } from 'class-transformer';
import { ApiProperty } from '@nestjs/swagger';
import { IsInt, IsOptional, IsString, isUUID, Length, Max, Min } from 'class-validator';
import { invalid } from '../problems/catalogue.js';
import { INSTANT, NO_CONTROL } from './fields.js';

const MOST = 200;
const USUAL = 50;

/** A number as people write one; JavaScript reads one out of "", " 7" and "0x1F" as well. */
const countOf = (text: unknown) => (typeof text === 'string' && /^\d{1,9}$/.test(text) ? Number(text) : text);

/** `?limit=&cursor=` of every list. */
export class PageQuery {
  @ApiProperty({ type: 'integer', minimum: 1, maximum: MOST, default: USUAL, required: false })
  @IsOptional()
  @Transform(({ value }: { value: unknown }) => countOf(value))
  @IsInt({ message: `must be a whole number from 1 to ${MOST}` })
  @Min(1, { message: `must be a whole number from 1 to ${MOST}` })
  @Max(MOST, { message: `must be a whole number from 1 to ${MOST}` })
  limit: number = USUAL;

  @ApiProperty({ type: String, required: false, description: 'The `next` of the page before' })
  @IsOptional()
  @IsString()
  @Length(1, 400)
  cursor?: string;
}

export interface Page<T> {
  items: T[];
  /** Cursor of the following page; null at the end. */
  next: string | null;
}

/** Opaque to whoever reads it: the sort key of the last item. */
export function cursorOf(key: readonly (string | number)[]): string {
  return Buffer.from(JSON.stringify(key)).toString('base64url');
}

/** What the parts of a sort key may be. A database would choke on anything else, and could not say where it stood. */
const isPart = {
  id: (part: unknown) => isUUID(part),
  instant: (part: unknown) =>
    typeof part === 'string' && INSTANT.test(part) && Number.isFinite(Date.parse(part)),
  number: (part: unknown) => Number.isSafeInteger(part),
  text: (part: unknown) => typeof part === 'string' && NO_CONTROL.test(part),
};

/** The sort key in a cursor, part by part; null without one. Refuses what we did not make. */
export function keyOf(
  cursor: string | undefined,
  ...parts: (keyof typeof isPart)[]
): (string | number)[] | null {
  if (cursor === undefined) return null;
  try {
    const key: unknown = JSON.parse(Buffer.from(cursor, 'base64url').toString());
    const fits = (part: keyof typeof isPart, at: number) => isPart[part]((key as unknown[])[at]);
    if (Array.isArray(key) && key.length === parts.length && parts.every(fits))
      return key as (string | number)[];
  } catch {
    // told below
  }
  throw invalid('/cursor', 'is not a cursor of this list');
}

/** A page from `limit + 1` rows: the row too many tells that there is a next page. */
export function pageOf<Row, T>(
  rows: readonly Row[],
  limit: number,
  key: (row: Row) => readonly (string | number)[],
  view: (row: Row) => T,
): Page<T> {
  const shown = rows.slice(0, limit);
  const last = shown.at(-1);
  return {
    items: shown.map(view),
    next: rows.length > limit && last !== undefined ? cursorOf(key(last)) : null,
  };
}
