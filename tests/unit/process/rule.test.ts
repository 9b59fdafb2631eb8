import { describe, expect, it } from 'vitest';
import {
  batchMethods,
  processRule,
  processRules,
  rulesFor,
  validateRule,
  type ProcessRule,
} from '#libs/process';
import { ruleWith } from './batch.js';

describe('the rule library', () => {
  it('holds only rules that can be met, and survives JSON unchanged', () => {
    for (const rule of processRules) {
      expect(validateRule(rule), rule.code).toEqual([]);
      expect(JSON.parse(JSON.stringify(rule))).toEqual(rule);
    }
  });

  it('finds each rule by its code, which no other has', () => {
    for (const rule of processRules) expect(processRule(rule.code)).toBe(rule);
    expect(new Set(processRules.map(({ code }) => code)).size).toBe(processRules.length);
    expect(processRule('no-such-rule')).toBeUndefined();
  });

  it('has a rule for every method', () => {
    for (const method of batchMethods) expect(rulesFor(method), method).not.toEqual([]);
    expect(rulesFor('in-vessel').map(({ code }) => code)).toEqual(['us-503-pfrp-in-vessel']);
  });

  it('says of turned bins that a permit must allow the windrow rule', () => {
    expect(processRule('us-503-pfrp-windrow')?.notes.join(' ')).toContain(
      'For turned bins the permit must allow this rule.',
    );
  });
});

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
    [{ methods: [] }, 'methods'],
  ];

  it.each(problems)('names what is wrong with %j', (changes, words) => {
    const found = validateRule(ruleWith(changes));
    expect(found).toHaveLength(1);
    expect(found[0]).toContain(words);
  });

  it('names every problem at once', () => {
    expect(validateRule(ruleWith({ code: '', citation: '', methods: [] }))).toHaveLength(3);
  });
});
