import type { FurtherVerdict, LoggerHours, ProcessVerdict } from '#libs/documents';
import { dayAt } from './example-checks.js';

const nothingBesides = {
  ...{ hotHoursBeforeTurn: null, thresholdStrict: false, upperLimitC: null, peak: null, average: null },
  ...{ leastMoisturePercent: null, carbonToNitrogen: null, zones: 1, depthCm: null },
};

/** Met by sixteen days of daily checks, the last of them after noon. */
export function verdict(): ProcessVerdict {
  return {
    rule: {
      ...{ code: 'us-503-pfrp-windrow', version: 3, citation: '40 CFR 503 Appendix B, B.1' },
      title: 'Windrow, 55 °C for 15 days with five turns',
      textStatus: 'parallel',
      fromMemory: ['the year of first publication'],
    },
    purpose: 'pathogen-reduction',
    reading: 'consecutive',
    status: 'met',
    required: {
      ...nothingBesides,
      ...{ hours: 360, days: null, turns: 5, turnSpacingHours: 24, hotHoursBeforeTurn: 20 },
      ...{ thresholdC: 55, upperLimitC: 70, probes: 2, zones: 2, longestGapHours: 36 },
      peak: { thresholdC: 60, strict: false, hours: 6 },
      average: { thresholdC: 57.5, strict: true },
      ...{ leastMoisturePercent: 40, carbonToNitrogen: { least: 25, most: 40 } },
    },
    creditedHours: 384,
    creditedDays: 16,
    turnsCredited: 5,
    clockStartedAt: dayAt(3),
    metAt: dayAt(18),
    creditedSpans: [{ from: dayAt(3), to: dayAt(19) }],
    days: Array.from({ length: 17 }, (_unused, index) => ({
      ...{ day: dayAt(index + 3).slice(0, 10), checks: 1, loggerReadings: index === 0 ? 24 : 0, counted: 1 },
      ...{ lowestC: 55.5 + index / 2, highestC: 64.1, longestGapHours: 24 },
      // from 08:10 to 08:10, cut to the tenth
      creditedHours: index === 0 ? 15.8 : index === 16 ? 8.2 : 24,
      turns: [2, 5, 8, 11, 14].includes(index) ? 1 : 0,
    })),
    conditions: [
      {
        ...{ key: 'carbon-to-nitrogen', state: 'met' },
        text: 'The mix was built with a C:N of 28.4, where 25 to 40 is asked for.',
      },
      { key: 'moisture', state: 'unknown', text: 'No moisture was measured in the credited time.' },
    ],
    cautions: [
      {
        ...{ from: dayAt(3), to: dayAt(19), kind: 'verification-overdue', instrument: 'T-3' },
        text: 'The verification of T-3 was 214 days overdue.',
      },
    ],
    otherReading: {
      ...{ reading: 'cumulative', status: 'met', creditedHours: 385.5, creditedDays: 16, turnsCredited: 5 },
      metAt: dayAt(18),
    },
    evidence: [
      {
        ...{ from: dayAt(0), to: dayAt(3), kind: 'below-threshold' },
        text: 'The coldest probe (edge) read 24.1, 33.7 and 46.3 °C, below 55 °C. Nothing is credited.',
      },
      {
        ...{ from: dayAt(3), to: dayAt(19), kind: 'credited' },
        text: 'Seventeen checks, none more than 24 hours apart, each with its coldest probe at or above 55 °C. 384 hours.',
      },
      {
        ...{ from: dayAt(5, 2), to: dayAt(17, 2), kind: 'turns' },
        text: 'Five turns inside the hot period.',
      },
    ],
    notes: ['The rule names no longest gap; 36 hours is the programme’s own.'],
    hoursAbove: [
      { temperatureC: 40, hours: 528 },
      { temperatureC: 50, hours: 432 },
      { temperatureC: 55, hours: 384 },
      { temperatureC: 60, hours: 0 },
    ],
    heatIntegral: {
      ...{ from: dayAt(3), to: dayAt(19), holdingTimes: 11.6 },
      citation: '40 CFR 503.32(a)(3)(ii)(A)',
    },
  };
}

/** What the permit of the example asks besides. */
export const vectorAttraction = (): FurtherVerdict => ({
  rule: {
    ...{ code: 'us-503-33-b-5', version: 1, citation: '40 CFR 503.33(b)(5)' },
    ...{ title: 'Aerobic treatment for 14 days', textStatus: 'from-memory', fromMemory: [] },
  },
  purpose: 'vector-attraction',
  reading: 'consecutive',
  status: 'in-progress',
  required: {
    ...nothingBesides,
    ...{ hours: 336, days: null, turns: 0, turnSpacingHours: 0, thresholdC: 40, thresholdStrict: true },
    ...{ average: { thresholdC: 45, strict: true }, probes: 2, longestGapHours: 36 },
  },
  creditedHours: 312.5,
  creditedDays: 13,
  turnsCredited: 0,
  metAt: null,
  clockStartedAt: dayAt(3),
  // from 08:10 to 08:40
  days: Array.from({ length: 14 }, (_unused, index) => ({
    ...{ day: dayAt(index + 3).slice(0, 10), checks: 1, loggerReadings: 0, counted: 1 },
    ...{ lowestC: 44.5 + index / 2, highestC: 63.7, longestGapHours: 24 },
    creditedHours: index === 0 ? 15.8 : index === 13 ? 8.7 : 24,
    turns: 0,
  })),
  conditions: [{ key: 'average', state: 'met', text: 'The mean was 58.3 °C.' }],
  cautions: [
    {
      ...{ from: dayAt(4), to: dayAt(6), kind: 'verification-overdue', instrument: 'T-9' },
      text: 'The verification of T-9 was 31 days overdue.',
    },
  ],
  otherReading: {
    ...{ reading: 'cumulative', status: 'met', creditedHours: 341.5, creditedDays: 14, turnsCredited: 0 },
    metAt: dayAt(17),
  },
  evidence: [
    {
      ...{ from: dayAt(3), to: dayAt(16, 0.5), kind: 'credited' },
      text: 'Fourteen checks, each with its coldest probe above 40 °C. 312.5 hours.',
    },
  ],
  notes: ['The 14 days are counted as 336 elapsed hours.', 'Written for sewage sludge.'],
});

/** One day of a logger beside the checks. */
export const loggerDay = (): LoggerHours => ({
  logger: 'L-1',
  hours: Array.from({ length: 24 }, (_unused, hour) => ({
    ...{ at: dayAt(3, hour), readings: 60 },
    ...{ lowestC: 55.5 + hour / 10, highestC: 62.5 + hour / 10 },
  })),
});
