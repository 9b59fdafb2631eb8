import type { ProcessRule, TurnTerms } from '../rule.js';

/** What a rule asks where its text says nothing of the kind; each rule puts its own words over it. */
export const silent = {
  version: 1,
  purpose: 'pathogen-reduction',
  fromMemory: [],
  thresholdStrict: false,
  upperLimitDeciC: null,
  peak: null,
  average: null,
  basis: 'elapsed',
  continuity: 'unstated',
  governing: 'coldest',
  minimumProbes: 1,
  minimumZones: 1,
  minimumDepthMm: null,
  longestGapHours: null,
  turns: null,
  graceAfterTurnHours: null,
  moisture: null,
  carbonToNitrogen: null,
  microbes: null,
} as const satisfies Partial<ProcessRule>;

export const unread = 'memory; no copy of the text was read';

/** The two tests that United States and Canadian texts name, with the same figures in all of them. */
export const coliformAndSalmonella = [
  { microbe: 'fecal-coliform', below: 1000, unit: 'MPN/g dry' },
  { microbe: 'salmonella', below: 3, unit: 'MPN/4 g dry' },
] as const;

export function days(count: number): { readonly hours: number } {
  return { hours: count * 24 };
}

/** Turns while the batch is hot, with no time between them. */
export function turns(count: number): TurnTerms {
  return { count, spacingHours: 0, hotHoursBefore: null };
}

export const probesNote =
  'Nothing is coded of the number or depth of probes: one probe is asked for here, and a permit may ask for more.';
export const turnsNote =
  'No time between turns is coded: turns on one day count separately, turns at one instant do not.';
export const binsNote = 'The text speaks of windrows only. For turned bins the permit must allow this rule.';
export const hourNote =
  "The text names no longest time between checks. An hour is this program's own choice here: two hot checks a day apart do not show an hour between them.";
export const yearNote = 'The year is that of first publication, from memory.';

export function daysNote(count: number): string {
  return `${count} days are counted as ${count * 24} elapsed hours, which is stricter than counting local days with a good check on each.`;
}
