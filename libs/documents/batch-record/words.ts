import { Temporal } from 'temporal-polyfill';
import type { BatchRecord } from './record.js';
import type { Entered } from './record-inputs.js';

/** Shown where nothing was recorded. */
export const NONE = '–';

/** The figure as JSON writes it, digit for digit. */
export const figure = (value: number | null): string => (value === null ? NONE : JSON.stringify(value));

export const withUnit = (value: number | null, unit: string): string =>
  value === null ? NONE : `${figure(value)} ${unit}`;

export const said = (text: string | null): string => (text === null || text === '' ? NONE : text);

/** A code of ours as words: `turned-windrow` is "turned windrow". */
export const plain = (code: string): string => code.replaceAll('-', ' ');

export const sentence = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);

/** Cubic units are typed as yd3 and read as yd³. */
export const asEntered = (entered: Entered | null): string =>
  entered === null ? NONE : `${figure(entered.value)} ${entered.unit.replace(/3$/, '³')}`;

/** The one word of an inspector's first question. */
export function standingOf({ status, batch }: BatchRecord): 'Released' | 'Condemned' | 'Merged' | 'Draft' {
  if (status === 'signed') return 'Released';
  if (batch.stage === 'merged') return 'Merged';
  return batch.stage === 'condemned' ? 'Condemned' : 'Draft';
}

/** How one record writes a time: the site's own date and clock, to the minute. */
export type Clock = (instant: string | null) => string;

/** The two ends of a span under each other, or its one instant. */
export const spanOf = (clock: Clock, from: string, to: string): string =>
  from === to ? clock(from) : `${clock(from)}\nto ${clock(to)}`;

export function clockOf({ site }: BatchRecord): Clock {
  return (instant) => {
    if (instant === null) return NONE;
    const local = Temporal.Instant.from(instant).toZonedDateTimeISO(site.timeZone);
    return local.toPlainDateTime().toString({ smallestUnit: 'minute' }).replace('T', ' ');
  };
}
