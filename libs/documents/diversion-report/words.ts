import { Decimal } from 'decimal.js';
import { Temporal } from 'temporal-polyfill';
import type { DiversionReport } from './report.js';

/** Both ends as readers mean them: the day that ends the period is in it. */
export function periodInWords({ from, to }: DiversionReport['period']): string {
  return `${from} to ${Temporal.PlainDate.from(to).subtract({ days: 1 }).toString()}`;
}

/** The same in a sentence, in which nobody takes the last day for the one after. */
export function daysInWords(from: string, to: string): string {
  const last = Temporal.PlainDate.from(to).subtract({ days: 1 });
  return `from ${from} up to and including ${last.toString()}`;
}

/** To the minute, on the clock of a place, which is named. */
export function localMomentInWords(instant: string, timeZone: string): string {
  const local = Temporal.Instant.from(instant).toZonedDateTimeISO(timeZone).toPlainDateTime();
  return `${local.toString({ smallestUnit: 'minute' }).replace('T', ' ')} ${timeZone}`;
}

/** To the minute, and in the one zone that a jurisdiction and its sites can share. */
export function momentInWords(instant: string): string {
  const utc = Temporal.Instant.from(instant).toZonedDateTimeISO('UTC').toPlainDateTime();
  return `${utc.toString({ smallestUnit: 'minute' }).replace('T', ' ')} UTC`;
}

/** A share of 0 to 1 as per cent with one decimal, rounded half to even. */
export function percentInWords(share: number): string {
  return `${new Decimal(share).times(100).toDecimalPlaces(1, Decimal.ROUND_HALF_EVEN).toFixed(1)} %`;
}

/** How accepted mass came to be known, in the order in which bars and slips have it. */
export const BASIS_WORDS = {
  weighed: 'weighed lot by lot',
  shared: 'weighed with its haul, shared back',
  estimated: 'estimated from volume',
} as const;

/** A code of ours as a reader says it. */
export const PLACE_WORDS: Readonly<Record<string, string>> = {
  landfill: 'landfill',
  recycling: 'recycling',
  'other-composting': 'composted by somebody else',
  returned: 'back to the depositor',
};
