import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  type GateSample,
  readinessOf,
  type ReadinessFacts,
  readinessStates,
  type SampleResult,
} from '#libs/process';
import { at, timeZone, turn } from './batch.js';
import { visit } from './advice-batch.js';

const day = (days: number) => at(days * 24);

/** A batch that cures from day 20 on, looked at on day 60. */
const curing = (facts: Partial<ReadinessFacts> = {}): ReadinessFacts => ({
  timeZone,
  curingSinceMs: day(20),
  reheatDeciC: null,
  checks: [],
  turns: [],
  samples: [],
  lastRawAtMs: at(0),
  ...facts,
});

const findings = (facts: Partial<ReadinessFacts>, days = 60) => readinessOf(curing(facts), day(days));
const one = (key: string, facts: Partial<ReadinessFacts>, days?: number) => {
  const found = findings(facts, days).find((finding) => finding.key === key);
  if (!found) throw new Error(`no finding ${key}`);
  return found;
};
const sample = (facts: Partial<GateSample> = {}): GateSample => ({
  ...{ kind: 'maturity', occurredAtMs: day(50), outcome: 'passed', results: [] },
  ...facts,
});
const result = (facts: Partial<SampleResult>): SampleResult => ({
  ...{ parameter: 'self-heating', value: 8, unit: 'C above ambient', qualifier: null, laboratoryWord: null },
  ...facts,
});

describe('the signs of readiness', () => {
  it('are not looked for before the cure', () => {
    expect(findings({ curingSinceMs: null })).toEqual([]);
    expect(findings({ curingSinceMs: day(61) })).toEqual([]);
  });

  it('are all not known where nothing is recorded', () => {
    const found = findings({});
    expect(found.map(({ key, state }) => [key, state])).toEqual(
      ['temperature', 'no-reheating', 'smell', 'texture', 'inputs', 'tests'].map((key) => [key, 'not-known']),
    );
  });

  it('take nothing from before the cure or after now', () => {
    const seen = { odour: 'earthy', texture: 'crumbly', inputsVisible: false, ambientDeciC: 200 } as const;
    const checks = [visit(19, [22], seen), visit(61, [22], seen)];
    expect(findings({ checks, turns: [turn(19 * 24)] }).every(({ state }) => state === 'not-known')).toBe(
      true,
    );
  });
});

describe('the temperature', () => {
  const air = (celsius: number, seen: object = {}, days?: number) =>
    one('temperature', { checks: [visit(55, [20, celsius], { ambientDeciC: 180, ...seen })] }, days);

  it('is near the air within 5 °C of it, by the hottest probe', () => {
    expect(air(23)).toEqual({
      key: 'temperature',
      title: 'Near the temperature of the air',
      state: 'yes',
      text: 'Check of 30 Jun 2024 08:00: hottest probe 23 °C (73.4 °F), air 18 °C (64.4 °F): 5 °C above it, where within about 5 °C counts as cured.',
      source: expect.objectContaining({ title: expect.stringContaining('AgriFutures') }),
    });
    expect(air(23.1).state).toBe('no');
    expect(air(12, { ambientDeciC: 220 }).text).toContain('2 °C below it');
  });

  it('is not known without the air, or by an old check', () => {
    expect(air(20, { ambientDeciC: null })).toMatchObject({ state: 'not-known' });
    expect(air(20, {}, 69).state).toBe('yes');
    expect(air(20, {}, 69.1)).toMatchObject({
      state: 'not-known',
      text: expect.stringContaining('14 days ago'),
    });
  });

  it('is that of whatever was found hotter since the air was noted', () => {
    const checks = [visit(55, [20], { ambientDeciC: 180 }), visit(56, [30]), visit(57, [19])];
    expect(one('temperature', { checks })).toMatchObject({
      state: 'no',
      text: expect.stringContaining('Check of 1 Jul 2024 08:00: hottest probe 30 °C'),
    });
  });

  it('says nothing of a dry pile: it cools whether or not it is ready', () => {
    expect(air(20, { moisture: 'dry' })).toMatchObject({
      state: 'not-known',
      text: expect.stringContaining('dry'),
    });
    expect(air(20, { moisturePercent: 39 }).state).toBe('not-known');
    expect(air(20, { moisturePercent: 40 }).state).toBe('yes');
    expect(air(30, { moisture: 'dry' }).state).toBe('no');
  });
});

describe('reheating', () => {
  const after = (turned: number, ...checks: [days: number, celsius: number][]) =>
    one('no-reheating', {
      checks: checks.map(([days, celsius]) => visit(days, [celsius])),
      turns: [turn(turned * 24)],
    });

  it('is shown by a turn, and checks to three days after it', () => {
    expect(one('no-reheating', { checks: [visit(55, [20])] }).state).toBe('not-known');
    expect(after(50).text).toContain('not read since');
    expect(after(50, [52.9, 30])).toMatchObject({
      state: 'not-known',
      text: expect.stringContaining('3 days'),
    });
    expect(after(50, [51, 30], [53, 25])).toMatchObject({
      state: 'yes',
      text: 'Turned on 25 Jun 2024 08:00: the hottest since is 30 °C (86 °F), at the check of 26 Jun 2024 08:00, below 45 °C (113 °F).',
    });
    expect(after(50, [51, 45], [54, 25]).state).toBe('no');
    expect(after(50, [49, 50], [53, 25]).state).toBe('yes');
  });

  it('goes by the permit where it names a level', () => {
    const facts = { checks: [visit(54, [41])], turns: [turn(50 * 24)] };
    expect(one('no-reheating', facts).state).toBe('yes');
    expect(one('no-reheating', { ...facts, reheatDeciC: 400 }).state).toBe('no');
  });
});

describe('what hand, nose and eye found', () => {
  it.each([
    ['smell', { odour: 'earthy' }, 'yes'],
    ['smell', { odour: 'none' }, 'yes'],
    ['smell', { odour: 'ammonia' }, 'no'],
    ['smell', { odour: 'sour' }, 'no'],
    ['smell', { odour: 'rotten' }, 'no'],
    ['texture', { texture: 'crumbly' }, 'yes'],
    ['texture', { texture: 'clumpy' }, 'no'],
    ['texture', { texture: 'slimy' }, 'no'],
    ['inputs', { inputsVisible: true }, 'no'],
    ['inputs', { inputsVisible: false }, 'yes'],
  ] as const)('%s %j: %s', (key, seen, state) => {
    expect(one(key, { checks: [visit(40, [20], seen), visit(50, [20])] }).state).toBe(state);
  });

  it('is what was noted last', () => {
    const checks = [visit(40, [20], { odour: 'rotten' }), visit(50, [20], { odour: 'earthy' })];
    const found = one('smell', { checks: checks.toReversed() });
    expect(found).toMatchObject({
      state: 'yes',
      text: 'Check of 25 Jun 2024 08:00: it smells of earth, as ready compost does.',
    });
  });
});

describe('tests', () => {
  it.each([
    ['passed', 'yes'],
    ['failed', 'no'],
    ['information', 'not-known'],
  ] as const)('%s: %s', (outcome, state) => {
    expect(one('test:maturity', { samples: [sample({ outcome })] }).state).toBe(state);
  });

  it('are each a finding of its own, by the last sample of the kind; of two at once, the failed one', () => {
    const samples = [
      sample({ occurredAtMs: day(40), outcome: 'failed' }),
      sample(),
      sample({ kind: 'bioassay', outcome: 'passed' }),
      sample({ kind: 'bioassay', outcome: 'failed' }),
    ];
    expect(
      findings({ samples })
        .slice(5)
        .map(({ key, state }) => [key, state]),
    ).toEqual([
      ['test:bioassay', 'no'],
      ['test:maturity', 'yes'],
    ]);
  });

  it('name the published class of each figure, with its source and how far it was checked', () => {
    const { text } = one('test:maturity', { samples: [sample({ results: [result({})] })] });
    expect(text).toContain('Sample of 25 Jun 2024 08:00, read by the manager as passed.');
    expect(text).toMatch(/: (Rottegrad )?V\b/);
    expect(text).toContain('from memory');
  });

  it('of an older mix say nothing', () => {
    expect(one('test:maturity', { samples: [sample()], lastRawAtMs: day(51) })).toMatchObject({
      state: 'not-known',
      text: expect.stringContaining('another mix'),
    });
  });
});

it('never adds anything up: a finding does not depend on the others', () => {
  const seen = fc.record({
    odour: fc.constantFrom('earthy', 'rotten', null),
    texture: fc.constantFrom('crumbly', 'slimy', null),
    inputsVisible: fc.constantFrom(true, false, null),
  });
  fc.assert(
    fc.property(seen, fc.integer({ min: 0, max: 60 }), (noted, celsius) => {
      const all = findings({ checks: [visit(50, [celsius], { ...noted, ambientDeciC: 200 })] });
      for (const key of ['odour', 'texture', 'inputsVisible'] as const) {
        const alone = findings({ checks: [visit(50, [celsius], { [key]: noted[key], ambientDeciC: 200 })] });
        const name = { odour: 'smell', texture: 'texture', inputsVisible: 'inputs' }[key];
        expect(alone.find((each) => each.key === name)).toEqual(all.find((each) => each.key === name));
      }
      for (const { state } of all) expect(readinessStates).toContain(state);
    }),
  );
});
