import { describe, expect, it } from 'vitest';
import { evaluateCure, type Caution, type GateFacts, type GateSample, type Verdict } from '#libs/process';
import { at, check, timeZone, turn, verdictOf } from './batch.js';
import { DAY, NOW, cureOf, gate, gates, hot, named, noLevel, permit, sample } from './gates-batch.js';

describe('a hold', () => {
  it('is a gate while it stands, which no other gate makes up for', () => {
    const held = gates({ hold: { sinceMs: at(58 * DAY), reason: 'Hay with herbicide may be in it.' } });
    expect(held.releasable).toBe(false);
    expect(held.gates.filter(({ state }) => state !== 'met')).toEqual([
      {
        ...{ key: 'hold', title: 'Hold', state: 'unmet' },
        text: 'On hold since 3 Jul 2024 08:00. No reason overrides it; it is lifted first. Its reason: Hay with herbicide may be in it.',
      },
    ]);
  });

  it('is no gate once it is lifted', () => {
    expect(gates().gates.map(({ key }) => key)).not.toContain('hold');
  });
});

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
        text: `Cured 30 days since 26 May 2024 08:00, done on 25 Jun 2024 08:00. ${noLevel}`,
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
        text: 'Permit LH-7 lists everything that went in: Food scraps; Leaves.',
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

describe('what a process-rule gate tells besides', () => {
  const verdict = (changes: Partial<Verdict>) =>
    gate('process-rule', { process: { ...verdictOf([check(0, 600)], { now: 1 }), ...changes } });

  it('are the conditions that are not there or not known', () => {
    const conditions = [
      { key: 'moisture', state: 'unknown', text: 'No water was measured.' },
      { key: 'peak', state: 'unmet', text: 'The peak was missed.' },
      { key: 'average', state: 'met', text: 'The mean was kept.' },
    ] as const;
    expect(verdict({ conditions })?.text).toMatch(/or more\. No water was measured\. The peak was missed\.$/);
  });

  it('are what speaks against the instruments, also where the rule was met', () => {
    const caution = (number: number) => ({
      ...{ kind: 'stuck' as const, fromMs: at(0), toMs: at(1), instrument: `L-${number}` },
      text: `L-${number} was stuck.`,
    });
    const met = verdict({ metAtMs: at(48), cautions: [1, 2, 3, 4, 5].map(caution) });
    expect(met?.state).toBe('met');
    expect(met?.text).toMatch(
      /L-1 was stuck\. L-2 was stuck\. L-3 was stuck\. 2 more cautions: see the verdict\.$/,
    );
  });

  it('is a level that must be passed, where the rule says above', () => {
    const process = verdictOf([check(0, 600)], { now: 1, rule: { thresholdStrict: true } });
    expect(gate('process-rule', { process })?.text).toMatch(/ credited above 55 °C \(131 °F\)\.$/);
  });
});

describe('the gates of further rules', () => {
  const further = (code: string, now: number) => verdictOf(hot, { rule: { code }, now });

  it('are one for each, and hold a release back like the first', () => {
    const list = gates({ furtherProcesses: [further('attraction', 49), further('other', 25)] });
    expect(list.releasable).toBe(false);
    expect(list.gates.slice(1, 4).map(({ key, title, state }) => [key, title, state])).toEqual([
      ['process-rule', 'Process rule', 'met'],
      ['process-rule:attraction', 'Process rule: attraction', 'met'],
      ['process-rule:other', 'Process rule: other', 'unmet'],
    ]);
  });

  it('tell a caution once, and of the next rule only that it goes for it too', () => {
    const caution = (instrument: string) => ({
      ...{ kind: 'stuck' as const, fromMs: at(0), toMs: at(1), instrument },
      text: `${instrument} was stuck.`,
    });
    const [first, second, third] = ['L-1', 'L-2', 'L-3'].map(caution) as [Caution, Caution, Caution];
    const doubted = (code: string, ...cautions: Caution[]) => ({ ...further(code, 49), cautions });
    const told = (facts: Partial<GateFacts>) =>
      gates(facts)
        .gates.filter(({ key }) => key.startsWith('process-rule'))
        .map(({ text }) => text.replace(/^.*? (were met on|is not met:) \d+ \w+ \d+ [\d:]+\. ?/, ''));
    const rules = [doubted('attraction', first, third), doubted('other', third, first, second)];
    expect(told({ process: doubted('example', first, second), furtherProcesses: rules })).toEqual([
      'L-1 was stuck. L-2 was stuck.',
      'L-3 was stuck. 1 caution, as of the rule above: see the verdict.',
      '3 cautions, as of the rule above: see the verdict.',
    ]);
    expect(told({ process: null, furtherProcesses: rules }).slice(1)).toEqual([
      'L-1 was stuck. L-3 was stuck.',
      'L-2 was stuck. 2 cautions, as of the rule above: see the verdict.',
    ]);
  });
});

describe('the cure gate', () => {
  it('tells the last time the batch was found hot, and what the records do not show', () => {
    const checks = [check(NOW - 30 * DAY, 300), check(NOW - 20 * DAY, 460)];
    const facts = { cureDays: 30, startedAtMs: at(NOW - 40 * DAY), checks, turns: [], reheatDeciC: 450 };
    expect(gate('cure', { cure: evaluateCure(facts, at(NOW), timeZone) })).toMatchObject({
      state: 'unmet',
      text: expect.stringMatching(
        /^Cured 20 of 30 days since .* The batch reheated, and the cure starts anew\. No turn is recorded since /,
      ),
    });
  });

  it('tells how long an unfinished cure has lasted', () => {
    expect(gate('cure', { cure: cureOf(29 * DAY, NOW) })).toMatchObject({
      state: 'unmet',
      text: `Cured 29 of 30 days since 6 Jun 2024 08:00. ${noLevel}`,
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

describe('a pathogens gate', () => {
  const tests = [
    { microbe: 'fecal-coliform', below: 1000, unit: 'MPN/g dry' },
    { microbe: 'salmonella', below: 3, unit: 'MPN/4 g dry' },
  ] as const;
  const terms = (logic: 'either' | 'both') => ({
    rule: `example-${logic}`,
    terms: { logic, tests, citation: `Example County Code ${logic}`, textStatus: 'verified' as const },
  });
  const figure = (parameter: string, value: number, unit: string) => ({
    ...{ parameter, value, unit, qualifier: null, laboratoryWord: null },
  });
  const fecal = (value: number) => figure('fecal-coliform', value, 'MPN/g dry');
  const salmonella = (value: number) => figure('salmonella', value, 'MPN/4 g dry');
  const taken = (hours: number, ...results: GateSample['results']) =>
    sample(hours, 'passed', 'pathogens', results);
  const asked = { ...permit, requiredSamples: ['pathogens'] };
  const pathogens = (logics: ('either' | 'both')[], ...samples: GateSample[]) =>
    gate('sample:pathogens', { permit: asked, samples, microbes: logics.map(terms), lastRawAtMs: at(100) });

  it.each([
    ['one passes, the other does not', [fecal(999), salmonella(3)], 'met', 'unmet'],
    ['one passes, the other is not tested', [fecal(999)], 'met', 'unknown'],
    ['one fails, the other is not tested', [fecal(1000)], 'unknown', 'unmet'],
    ['both pass', [fecal(999), salmonella(2.9)], 'met', 'met'],
    ['both fail', [fecal(1000), salmonella(3)], 'unmet', 'unmet'],
    ['there is no figure', [], 'unknown', 'unknown'],
  ])('where %s', (_, results, either, both) => {
    expect(pathogens(['either'], taken(900, ...results))?.state).toBe(either);
    expect(pathogens(['both'], taken(900, ...results))?.state).toBe(both);
    expect(pathogens(['either', 'both'], taken(900, ...results))?.state).toBe(both);
  });

  it('names the rule, its logic and its citation, and a word against the figures', () => {
    const text = pathogens(['both'], taken(900, fecal(1000), salmonella(1)))?.text;
    expect(text).toMatch(/^The last pathogens sample, of .*, was read as passed, against the figures\. /);
    expect(text).toMatch(
      /Tests of example-both \(Example County Code both; each of these tests must pass\): not met/,
    );
  });

  it('takes the last figure of each test, from samples of this mix', () => {
    const first = taken(900, fecal(10), salmonella(9));
    expect(pathogens(['both'], first, taken(910, salmonella(1)))?.state).toBe('met');
    expect(pathogens(['both'], taken(910, salmonella(9)), taken(900, fecal(10), salmonella(1)))?.state).toBe(
      'unmet',
    );
    expect(pathogens(['both'], taken(90, fecal(10)), taken(900, salmonella(1)))?.state).toBe('unknown');
  });

  it('stays shut where the manager said it failed, and tells that its figures pass', () => {
    const failed = pathogens(['either'], sample(900, 'failed', 'pathogens', [fecal(10)]));
    expect(failed?.state).toBe('unmet');
    expect(failed?.text).toMatch(/ failed\. Failed, although its figures pass\. Tests of example-either/);
  });

  it('goes by the manager where no rule has tests of its own', () => {
    expect(pathogens([], taken(900, fecal(5000)))?.state).toBe('met');
  });

  it('tells of figures in a sample of another kind without deciding by them', () => {
    const other = sample(900, 'passed', 'maturity', [fecal(5000), salmonella(5)]);
    const found = gate('sample:maturity', { samples: [other], microbes: [terms('either')] });
    expect(found).toMatchObject({
      state: 'met',
      text: expect.stringContaining('Passed, against its figures.'),
    });
  });
});

describe('the other gates', () => {
  it('name the materials that the permit of the beginning does not list', () => {
    const materials = named('food-scraps', 'grass', 'manure');
    const later = { ...permit, reference: 'LH-8', materials: [...permit.materials, 'grass'] };
    expect(gate('inputs-allowed', { materials, permit: later })).toMatchObject({
      state: 'unmet',
      text: 'Permit LH-7 does not list all that went in. Not listed: Grass; Manure.',
    });
    expect(gate('inputs-allowed', { materials, permit: later, foundingPermit: null })?.text).toBe(
      'Permit LH-8 does not list all that went in. Not listed: Manure.',
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
