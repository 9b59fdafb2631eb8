import { describe, expect, it } from 'vitest';
import { validateRule, type ProcessRule } from '#libs/process';
import { ruleWith } from './batch.js';

describe('validateRule', () => {
  it('finds nothing wrong with a plain rule', () => {
    expect(validateRule(ruleWith())).toEqual([]);
    expect(validateRule(ruleWith({ basis: 'daily', duration: { days: 3 }, longestGapHours: null }))).toEqual(
      [],
    );
  });

  const problems: [Partial<ProcessRule>, string][] = [
    [{ code: ' ' }, 'code'],
    [{ citation: '' }, 'citation'],
    [{ textSource: '' }, 'textSource'],
    [{ year: 1993.5 }, 'year'],
    [{ thresholdDeciC: NaN }, 'thresholdDeciC'],
    [{ upperLimitDeciC: 549 }, 'no check could hold'],
    [{ duration: { hours: 0 } }, 'duration'],
    [{ duration: { days: Infinity } }, 'duration'],
    [{ basis: 'daily', duration: { hours: 72 }, longestGapHours: null }, 'whole days'],
    [{ basis: 'daily', duration: { days: 2.5 }, longestGapHours: null }, 'whole days'],
    [{ basis: 'daily', duration: { days: 3 }, longestGapHours: 24 }, 'missing day'],
    [{ minimumProbes: 0 }, 'minimumProbes'],
    [{ minimumProbes: 1.5 }, 'minimumProbes'],
    [{ minimumDepthMm: 0 }, 'minimumDepthMm'],
    [{ longestGapHours: 0 }, 'longestGapHours'],
    [{ graceAfterTurnHours: 0 }, 'graceAfterTurnHours'],
    [{ turns: { count: 0, spacingHours: 0, hotHoursBefore: null } }, 'turns.count'],
    [{ turns: { count: 1, spacingHours: -1, hotHoursBefore: null } }, 'turns.spacingHours'],
    [{ turns: { count: 1, spacingHours: 0, hotHoursBefore: 0 } }, 'turns.hotHoursBefore'],
    [{ methods: [] }, 'methods'],
    [{ year: -5 }, 'from 1900 to 2100'],
    [{ minimumProbes: 101 }, 'minimumProbes'],
    [{ minimumDepthMm: 3001 }, 'at most 3 m'],
    [{ graceAfterTurnHours: 24.5 }, 'graceAfterTurnHours'],
    [{ turns: { count: 100, spacingHours: 1000, hotHoursBefore: null } }, 'turns take longer than 3 years'],
    [{ turns: { count: 400, spacingHours: 0, hotHoursBefore: 72 } }, 'turns take longer than 3 years'],
    [{ longestGapHours: 48 }, 'two checks could show all of it'],
    [
      {
        basis: 'daily',
        duration: { days: 3 },
        longestGapHours: null,
        average: { thresholdDeciC: 600, strict: false },
      },
      'counts whole days',
    ],
    [{ thresholdDeciC: -1 }, 'from 0 to 100 °C'],
    [{ thresholdDeciC: 1001 }, 'from 0 to 100 °C'],
    [{ upperLimitDeciC: 1001 }, 'hotter than boiling water'],
    [{ duration: { hours: 3 * 366 * 24 + 1 } }, 'longer than 3 years'],
    [{ longestGapHours: 49 }, 'two checks could show all of it'],
    [{ average: { thresholdDeciC: 549, strict: false } }, 'it asks for nothing'],
    [{ peak: { thresholdDeciC: 1001, strict: false, hours: 1 } }, 'hotter than boiling water'],
    [{ average: { thresholdDeciC: 1001, strict: false } }, 'hotter than boiling water'],
    [{ minimumZones: 2 }, 'each zone needs a probe'],
    [{ minimumZones: 0 }, 'minimumZones'],
    [{ thresholdStrict: true, upperLimitDeciC: 550 }, 'none could hold'],
    [{ peak: { thresholdDeciC: 549, strict: false, hours: 1 } }, 'it asks for nothing'],
    [{ upperLimitDeciC: 650, peak: { thresholdDeciC: 650, strict: true, hours: 1 } }, 'could reach it'],
    [{ peak: { thresholdDeciC: 600, strict: false, hours: 0 } }, 'peak.hours is not above 0'],
    [{ peak: { thresholdDeciC: 600, strict: false, hours: 49 } }, 'longer than the whole time'],
    [{ upperLimitDeciC: 650, average: { thresholdDeciC: 651, strict: false } }, 'no mean could reach it'],
    [{ moisture: { leastPercent: 101 } }, 'moisture.leastPercent'],
    [{ carbonToNitrogen: { least: 0, most: 40 } }, 'carbonToNitrogen.least'],
    [{ carbonToNitrogen: { least: 40, most: 25 } }, 'carbonToNitrogen.most'],
    [
      { microbes: { logic: 'either', tests: [], citation: 'Example', textStatus: 'verified' } },
      'microbes.tests',
    ],
  ];

  it('lets a peak and a mean lie at the limit, where at is enough', () => {
    const level = { thresholdDeciC: 650, strict: false };
    const rule = ruleWith({ upperLimitDeciC: 650, peak: { ...level, hours: 48 }, average: level });
    expect(validateRule(rule)).toEqual([]);
  });

  it.each(problems)('names what is wrong with %j', (changes, words) => {
    const found = validateRule(ruleWith(changes));
    expect(found).toHaveLength(1);
    expect(found[0]).toContain(words);
  });

  it('names every problem at once', () => {
    expect(validateRule(ruleWith({ code: '', citation: '', methods: [] }))).toHaveLength(3);
  });
});
