import { readFileSync } from 'node:fs';
import {
  batchMethods,
  evaluateProcess,
  processRule,
  processRules,
  validateRule,
  type BatchFacts,
  type ProcessRule,
  type TurnTerms,
} from '#libs/process';
import { describe, expect, it } from 'vitest';
import { at, batch, check, turn } from './batch.js';

const regions = ['US', 'US-NY', 'US-CA', 'US-TX', 'US-MA', 'CA', 'GB', 'DE', 'EU', 'AU'];
const each = processRules.map((rule) => [rule.code, rule] as const);

describe('the rule library', () => {
  it.each(each)('%s can be met as written, and survives JSON unchanged', (_, rule) => {
    expect(validateRule(rule)).toEqual([]);
    expect(JSON.parse(JSON.stringify(rule))).toEqual(rule);
  });

  it('finds each rule by its code, which no other has and which begins with its region', () => {
    for (const rule of processRules) {
      expect(processRule(rule.code)).toBe(rule);
      expect(rule.code.startsWith(`${rule.region?.toLowerCase() ?? ''}-`), rule.code).toBe(true);
    }
    expect(new Set(processRules.map(({ code }) => code)).size).toBe(processRules.length);
    expect(new Set(processRules.map(({ region }) => region))).toEqual(new Set(regions));
    expect(processRule('no-such-rule')).toBeUndefined();
  });

  it('has a rule against pathogens for every method', () => {
    for (const method of batchMethods) {
      const codes = processRules.filter(
        ({ methods, purpose }) => methods.includes(method) && purpose === 'pathogen-reduction',
      );
      expect(codes, method).not.toEqual([]);
    }
  });

  it('says of turned bins, where the text speaks of windrows, that a permit must allow the rule', () => {
    const permitted = processRules.filter(({ notes }) =>
      notes.join(' ').includes('permit must allow this rule'),
    );
    expect(permitted.map(({ code }) => code)).toContain('us-503-pfrp-windrow');
    for (const { code, methods } of permitted) expect(methods, code).toContain('turned-bins');
    for (const { code, methods } of processRules.filter(({ code }) => code.endsWith('-windrow'))) {
      expect(
        permitted.some((rule) => rule.code === code),
        code,
      ).toBe(methods.includes('turned-bins'));
    }
  });
});

describe('how far a text was read', () => {
  const unread = processRules.filter(({ textStatus }) => textStatus === 'from-memory');

  it('is marked where nothing of it was', () => {
    expect(unread.map(({ code }) => code)).toEqual([
      ...['us-ca-17868-3-static-aerated', 'us-ca-17868-3-in-vessel'],
      ...['ca-ccme-2005-windrow', 'ca-ccme-2005-static-aerated', 'ca-ccme-2005-in-vessel'],
      'gb-pas-100',
      ...['eu-2019-1009-70', 'eu-2019-1009-65', 'eu-2019-1009-60', 'eu-2019-1009-55'],
      ...['au-as-4454-turned', 'au-as-4454-high-risk'],
    ]);
    for (const { code, textSource, fromMemory, microbes } of unread) {
      expect(textSource, code).toContain('memory; no copy of the text was read');
      expect(fromMemory, code).toEqual([]);
      if (microbes !== null) expect(microbes.textStatus, code).toBe('from-memory');
    }
    for (const { code, textSource, textStatus } of processRules) {
      expect(textSource.includes('memory'), code).toBe(textStatus === 'from-memory');
    }
  });

  it('names what else is from memory, and says so in a note', () => {
    for (const { code, fromMemory, notes } of processRules.filter((rule) => rule.fromMemory.length > 0)) {
      expect(notes.join(' '), code).toContain('from memory');
      for (const figure of fromMemory) expect(figure.trim(), code).not.toBe('');
    }
  });
});

/** All that a rule asks, and nothing above it but a degree, as checks an hour apart where it counts one hour, else six. */
function fulfilling(rule: ProcessRule): { facts: BatchFacts; hours: number } {
  const hours = 'hours' in rule.duration ? rule.duration.hours : rule.duration.days * 24;
  const levels = [rule, rule.peak, rule.average].map((level) => level?.thresholdDeciC ?? 0);
  const step = Math.min(6, hours / 4);
  const checks = Array.from({ length: hours / step + 1 }, (_, index) => {
    const { readings, ...visit } = check(index * step, Math.max(...levels) + 10);
    return { ...visit, readings: readings.map((probe) => ({ ...probe, depthMm: rule.minimumDepthMm })) };
  });
  const { count = 0, spacingHours = 0, hotHoursBefore = null } = rule.turns ?? {};
  const apart = Math.max(spacingHours, hotHoursBefore ?? 0, hours / (count + 1));
  const facts = batch({
    checks,
    turns: Array.from({ length: count }, (_, index) => turn((index + 1) * apart)),
    moistures: [0, hours].map((hour) => ({ occurredAtMs: at(hour), percent: 55 })),
    carbonToNitrogen: 30,
  });
  return { facts, hours };
}

describe.each(each)('%s', (_, rule) => {
  const { facts, hours } = fulfilling(rule);
  const judged = (given: BatchFacts) => evaluateProcess(rule, given, at(hours));

  it('is met by a history that gives all it asks', () => {
    expect(judged(facts)).toMatchObject({ status: 'met', metAtMs: at(hours) });
  });

  it('is not met by a batch of which nothing is known, nor without the last check', () => {
    expect(judged(batch()).status).toBe('not-started');
    expect(judged({ ...facts, checks: facts.checks.slice(0, -1) }).metAtMs).toBeNull();
  });
});

function turnsAsked({ count, spacingHours, hotHoursBefore }: TurnTerms): string {
  const apart = spacingHours > 0 ? ` at least ${spacingHours} hours apart` : '';
  return `${count} turns${apart}${hotHoursBefore === null ? '' : `, each after ${hotHoursBefore} unbroken hot hours`}`;
}

/** What a reader of the table must find of a rule in its row. */
function asked(rule: ProcessRule): string[] {
  const hours = 'hours' in rule.duration ? rule.duration.hours : rule.duration.days * 24;
  const celsius = (deciC: number, strict = false) => `${strict ? 'above ' : ''}${deciC / 10} °C`;
  const { peak, average, turns, moisture, carbonToNitrogen, minimumDepthMm, upperLimitDeciC } = rule;
  const time = { consecutive: ', unbroken', cumulative: ', added up', unstated: '' }[rule.continuity];
  return [
    celsius(rule.thresholdDeciC, rule.thresholdStrict),
    (hours % 24 === 0 ? `${hours / 24} days` : `${hours} hour`) + time,
    ...(peak
      ? [
          `${peak.hours} hours of them ${peak.strict ? '' : 'at '}${celsius(peak.thresholdDeciC, peak.strict)}`,
        ]
      : []),
    ...(average ? [`on average ${celsius(average.thresholdDeciC, average.strict)}`] : []),
    ...(upperLimitDeciC === null ? [] : [`never above ${celsius(upperLimitDeciC)}`]),
    ...(turns ? [turnsAsked(turns)] : []),
    ...(minimumDepthMm === null ? [] : [`probes at ${minimumDepthMm} mm or deeper`]),
    ...(moisture ? [`water at least ${moisture.leastPercent} %`] : []),
    ...(carbonToNitrogen ? [`C:N ${carbonToNitrogen.least} to ${carbonToNitrogen.most}`] : []),
  ];
}

describe('the table of rules in docs/process.md', () => {
  const page = readFileSync(new URL('../../../docs/process.md', import.meta.url), 'utf8');
  const section = page.split('\n## ').find((part) => part.startsWith('The rules\n')) ?? '';
  const rows = section
    .split('\n')
    .filter((line) => line.startsWith('| `'))
    .map((line) => line.split('|').map((cell) => cell.trim()));

  it('has a row for each, in their order', () => {
    expect(rows.map(([, code]) => code)).toEqual(processRules.map(({ code }) => `\`${code}\``));
  });

  it.each(each)('says what %s asks and how far its text was read', (code, rule) => {
    const [, , asks = '', text] = rows.find((row) => row[1] === `\`${code}\``) ?? [];
    const expected = asked(rule);
    expect(asks.split('; ')).toEqual([`${expected[0]} for ${expected[1]}`, ...expected.slice(2)]);
    const memory = rule.fromMemory.length > 0 ? `; from memory: ${rule.fromMemory.join(', ')}` : '';
    expect(text).toBe(`${rule.citation}; ${rule.textStatus}${memory}`);
  });
});
