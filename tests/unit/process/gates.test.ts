import { describe, expect, it } from 'vitest';
import {
  evaluateCure,
  gatesOf,
  type Gate,
  type GateFacts,
  type GatePermit,
  type GateSample,
} from '#libs/process';
import { at, check, timeZone, turn, verdictOf } from './batch.js';

const permit: GatePermit = {
  reference: 'LH-7',
  validFrom: '2024-01-01',
  validTo: '2024-12-31',
  processRule: 'example',
  cureDays: 30,
  requiredSamples: ['maturity'],
  materials: ['food-scraps', 'leaves'],
};

const hot = [check(0, 600), check(24, 600), check(48, 600)];
const sample = (hours: number, outcome: GateSample['outcome'], kind = 'maturity') => ({
  kind,
  occurredAtMs: at(hours),
  outcome,
});
const cureOf = (hoursAgo: number, now: number) =>
  evaluateCure(
    { cureDays: 30, startedAtMs: at(now - hoursAgo), checks: [], turns: [], reheatDeciC: null },
    at(now),
    timeZone,
  );

const DAY = 24;
const NOW = 60 * DAY;

/** A batch with nothing against it, 60 days after it was built. */
const good: GateFacts = {
  timeZone,
  permit,
  foundingPermit: permit,
  process: verdictOf(hot),
  cure: cureOf(40 * DAY, NOW),
  samples: [sample(50 * DAY, 'passed')],
  lastRawAtMs: at(0),
  materials: ['food-scraps', 'leaves'],
  inputG: 1_000_000,
  outputG: 412_345,
};

const gates = (changes: Partial<GateFacts> = {}, now = NOW) => gatesOf({ ...good, ...changes }, at(now));
const gate = (key: string, changes: Partial<GateFacts> = {}, now = NOW): Gate | undefined =>
  gates(changes, now).gates.find((each) => each.key === key);

describe('the gates of a release', () => {
  it('are all met by a batch with nothing against it, each with its figures', () => {
    const list = gates();
    expect(list.releasable).toBe(true);
    expect(list.gates).toEqual([
      {
        key: 'permit-valid',
        title: 'Permit',
        state: 'met',
        text: 'Permit LH-7 is in force on 5 Jul 2024 (valid 1 Jan 2024 to 31 Dec 2024).',
      },
      {
        key: 'process-rule',
        title: 'Process rule',
        state: 'met',
        text: 'The recorded criteria of example (Example County Code 1) were met on 8 May 2024 08:00.',
      },
      {
        key: 'cure',
        title: 'Cure',
        state: 'met',
        text: 'Cured 30 days since 26 May 2024 08:00, done on 25 Jun 2024 08:00.',
      },
      {
        key: 'sample:maturity',
        title: 'Sample: maturity',
        state: 'met',
        text: 'The last maturity sample, of 25 Jun 2024 08:00, passed.',
      },
      {
        key: 'inputs-allowed',
        title: 'Materials',
        state: 'met',
        text: 'Permit LH-7 lists everything that went in: food-scraps and leaves.',
      },
      {
        key: 'balance',
        title: 'Mass balance',
        state: 'met',
        text: '412.345 kg came out of the 1000.000 kg that went in.',
      },
    ]);
  });

  it('are unknown, and hold the release back, where no permit is recorded', () => {
    const list = gates({ permit: null, foundingPermit: null, process: null, cure: null });
    expect(list.releasable).toBe(false);
    expect(list.gates.map(({ key, state }) => [key, state])).toEqual([
      ['permit-valid', 'unknown'],
      ['process-rule', 'unknown'],
      ['cure', 'unknown'],
      ['samples', 'unknown'],
      ['inputs-allowed', 'unknown'],
      ['balance', 'met'],
    ]);
  });

  it('are not required where a permit is silent', () => {
    const silent = { ...permit, processRule: null, cureDays: null, requiredSamples: [], materials: [] };
    const facts = { permit: silent, foundingPermit: silent, process: null, cure: null, samples: [] };
    const list = gates(facts);
    expect(list.releasable).toBe(true);
    expect(list.gates.slice(1, 5).map(({ state }) => state)).toEqual(Array(4).fill('not-required'));
  });
});

describe('the permit gate', () => {
  it('goes by the local day, the last one included', () => {
    const last = (Date.parse('2025-01-01T06:59Z') - at(0)) / 3_600_000;
    expect(gate('permit-valid', {}, last)).toMatchObject({ state: 'met' });
    expect(gate('permit-valid', {}, last + 1)).toMatchObject({
      state: 'unmet',
      text: 'Permit LH-7 is not in force on 1 Jan 2025 (valid 1 Jan 2024 to 31 Dec 2024).',
    });
  });

  it('knows a permit without an end, and one that has not begun', () => {
    const open = gate('permit-valid', { permit: { ...permit, validTo: null } }, 24 * 4000);
    expect(open).toMatchObject({ state: 'met', text: expect.stringContaining('(valid from 1 Jan 2024)') });
    const early = gate('permit-valid', { permit: { ...permit, validFrom: '2024-07-06' } });
    expect(early?.state).toBe('unmet');
  });
});

describe('the process-rule gate', () => {
  const process = (checks: Parameters<typeof verdictOf>[0], now: number, turns = 0) =>
    gate('process-rule', {
      process: verdictOf(checks, {
        now,
        rule: turns > 0 ? { turns: { count: turns, spacingHours: 0, hotHoursBefore: null } } : {},
        facts: { turns: [turn(12)] },
      }),
    });

  it('tells how far an unmet rule has come', () => {
    expect(process([check(0, 600), check(24, 600)], 25, 5)).toMatchObject({
      state: 'unmet',
      text:
        'example (Example County Code 1) is not met: 24 hours of 48 and 1 of 5 turns credited ' +
        'at 55 °C (131 °F) or more.',
    });
    expect(process([check(0, 600), check(24, 500)], 25)?.state).toBe('unmet');
    expect(process([], 25)?.state).toBe('unmet');
  });

  it('is unknown where the checks do not show it', () => {
    expect(process([check(0, 600), check(24, 600)], 100)).toMatchObject({
      state: 'unknown',
      text: expect.stringMatching(/^The checks do not show whether/),
    });
  });

  it('counts days under a daily rule', () => {
    const daily = verdictOf([check(0, 600), check(24, 600), check(48, 600)], {
      rule: { basis: 'daily', duration: { days: 15 }, longestGapHours: null },
      now: 49,
    });
    expect(gate('process-rule', { process: daily })?.text).toMatch(/: 1 local day of 15 credited at /);
  });

  it('says so when the permit names another rule than the batch was run under', () => {
    const foundingPermit = { ...permit, processRule: 'other' };
    expect(gate('process-rule', { foundingPermit })?.text).toMatch(
      / Permit LH-7 names another rule, other\.$/,
    );
  });
});

describe('the cure gate', () => {
  it('tells how long an unfinished cure has lasted', () => {
    expect(gate('cure', { cure: cureOf(29 * DAY, NOW) })).toMatchObject({
      state: 'unmet',
      text: 'Cured 29 of 30 days since 6 Jun 2024 08:00.',
    });
  });

  it('is unmet before curing has begun', () => {
    const cure = evaluateCure(
      { cureDays: 30, startedAtMs: null, checks: [], turns: [], reheatDeciC: null },
      at(NOW),
      timeZone,
    );
    expect(gate('cure', { cure })).toMatchObject({
      state: 'unmet',
      text: 'Curing has not begun. Permit LH-7 asks for 30 days.',
    });
  });
});

describe('a sample gate', () => {
  const state = (...samples: GateSample[]) => gate('sample:maturity', { samples })?.state;

  it('asks for a judged sample of its own kind', () => {
    expect(state()).toBe('unmet');
    expect(state(sample(900, 'passed', 'metals'), sample(900, 'information'))).toBe('unmet');
  });

  it('goes by the last judged sample, in whatever order they come', () => {
    expect(state(sample(900, 'failed'), sample(910, 'passed'))).toBe('met');
    expect(state(sample(910, 'failed'), sample(900, 'passed'))).toBe('unmet');
    expect(state(sample(900, 'passed'), sample(910, 'information'))).toBe('met');
    expect(state(sample(900, 'passed'), sample(900, 'failed'))).toBe('unmet');
  });

  it('does not count a sample that is yet to come', () => {
    expect(state(sample(NOW, 'passed'))).toBe('met');
    expect(state(sample(NOW + 1, 'passed'))).toBe('unmet');
    expect(state(sample(900, 'passed'), sample(NOW + 1, 'failed'))).toBe('met');
  });

  it('does not count a sample from before the last raw material', () => {
    const facts = { samples: [sample(900, 'passed')], lastRawAtMs: at(901) };
    expect(gate('sample:maturity', facts)).toMatchObject({
      state: 'unmet',
      text: expect.stringContaining('raw material went in after it'),
    });
  });
});

describe('the other gates', () => {
  it('name the materials that the permit of the beginning does not list', () => {
    const materials = ['food-scraps', 'grass', 'manure'];
    const later = { ...permit, reference: 'LH-8', materials: [...permit.materials, 'grass'] };
    expect(gate('inputs-allowed', { materials, permit: later })).toMatchObject({
      state: 'unmet',
      text: 'Permit LH-7 does not list grass and manure, which went in.',
    });
    expect(gate('inputs-allowed', { materials, permit: later, foundingPermit: null })?.text).toBe(
      'Permit LH-8 does not list manure, which went in.',
    );
    expect(gate('inputs-allowed', { materials: [] })?.state).toBe('unknown');
  });

  it('hold a balance to the gram', () => {
    expect(gate('balance', { outputG: 1_000_000 })?.state).toBe('met');
    expect(gate('balance', { outputG: 1_000_001 })).toMatchObject({
      state: 'unmet',
      text: 'More came out, 1000.001 kg, than the 1000.000 kg that went in.',
    });
    expect(gate('balance', { inputG: 0, outputG: 0 })?.state).toBe('unknown');
  });
});
