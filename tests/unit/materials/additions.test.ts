import { describe, expect, it } from 'vitest';
import {
  additionsFor,
  type AdditionsAnswer,
  type AdditionsQuestion,
  handOut,
  startingMaterials,
  targetsAsked,
  withHighs,
} from '#libs/materials';
import { candidate, figure, material, target, water } from './additions-example.js';

const scraps = material('scraps', { nitrogen: 2.4, carbon: 36, moisture: 69, density: 455, ash: 10 });
const chips = material('chips', { nitrogen: 0.1, carbon: 50, moisture: 20, density: 250, ash: 1 });
const leaves = material('leaves', { nitrogen: 0.9, carbon: 50, moisture: 38, density: 100, ash: 10 });
const straw = material('straw', { nitrogen: 0.5, carbon: 45, moisture: 12, density: 60, ash: 7 });
const barrow = { code: 'B1', volumeMl: 90_000 };

const batch = [{ material: scraps, massG: 500_000, estimatedG: 0, estimatedMl: 0 }];
const ratio = target('carbonToNitrogen', 25, 30);
const dampness = target('moisturePercent', 50, 60);

const ask = (question: Partial<AdditionsQuestion>): Promise<AdditionsAnswer> =>
  withHighs((solve) =>
    additionsFor(
      {
        parts: batch,
        candidates: [],
        targets: [ratio, dampness],
        leastBy: 'mass',
        obtainable: [],
        ...question,
      },
      solve,
    ),
  );

const codes = (some: readonly { materialCode: string }[]) => some.map(({ materialCode }) => materialCode);

describe('what can be asked', () => {
  it('is in range, and nothing is added, where every target is met, or none is asked', async () => {
    const met = await ask({ targets: [target('carbonToNitrogen', 10, 20)], candidates: [candidate(chips)] });
    expect(met).toMatchObject({ state: 'in-range', additions: [], unmet: [] });
    expect(met.after!.value.carbonToNitrogen).toBeCloseTo(15, 10);
    expect((await ask({ targets: [] })).state).toBe('in-range');
  });

  it.each([
    [target('carbonToNitrogen', 31, 30)],
    [target('moisturePercent', 101, null)],
    [target('freeAirSpacePercent', null, -1)],
  ])('is contradictory where a target leaves nothing, and says which: %o', async (impossible) => {
    const answer = await ask({
      targets: [dampness, impossible].slice(impossible.figure === dampness.figure ? 1 : 0),
    });
    expect(answer).toMatchObject({ state: 'contradictory', unmet: [{ target: impossible, nearest: null }] });
  });

  it('is unknown for an empty batch, and where nothing of its figures is known', async () => {
    expect((await ask({ parts: [], candidates: [candidate(chips)] })).state).toBe('unknown');
    const parts = [{ material: material('dark', {}), massG: 9_000, estimatedG: 0, estimatedMl: 0 }];
    expect(await ask({ parts, candidates: [candidate(chips)] })).toMatchObject({
      state: 'unknown',
      notJudged: ['carbonToNitrogen', 'moisturePercent'],
    });
  });

  it('leaves a figure unjudged that is unknown of the whole batch, and asks the rest', async () => {
    const { density: _, ...weighed } = { nitrogen: 2.4, carbon: 36, moisture: 69, density: 455 };
    const answer = await ask({
      parts: [{ material: material('scraps', weighed), massG: 500_000, estimatedG: 0, estimatedMl: 0 }],
      candidates: [candidate(chips), candidate(water)],
      targets: [ratio, target('bulkDensityKgM3', null, 300)],
    });
    expect(answer).toMatchObject({ state: 'found', notJudged: ['bulkDensityKgM3'] });
  });

  it('goes by what is known where a part of the batch is not', async () => {
    const parts = [
      ...batch,
      { material: material('dark', {}), massG: 500_000, estimatedG: 0, estimatedMl: 0 },
    ];
    const [all, known] = [
      await ask({ parts, candidates: [candidate(chips)] }),
      await ask({ candidates: [candidate(chips)] }),
    ];
    expect(all.additions).toEqual(known.additions);
    expect(all.after!.knownMassShare.carbonToNitrogen).toBeLessThan(1);
  });

  it.each([
    ['a candidate twice', { candidates: [candidate(chips), candidate(chips)] }],
    ['a target twice', { targets: [ratio, ratio] }],
    ['a target that is no number', { targets: [target('moisturePercent', Number.NaN, null)] }],
    ['less than nothing in stock', { candidates: [candidate(chips, { availableG: -1 })] }],
    ['a cost below nothing', { candidates: [candidate(chips, { costPerKg: -0.1 })] }],
    [
      'a container that holds nothing',
      { candidates: [candidate(chips, { measure: { code: 'B0', volumeMl: 0 } })] },
    ],
    ['a moisture of 100 %', { candidates: [candidate(material('wet', { moisture: 100 }))] }],
    ['a nitrogen below 0', { obtainable: [material('odd', { nitrogen: -1 })] }],
    [
      'a C:N of 0',
      { parts: [{ material: material('odd', { ratio: 0 }), massG: 1, estimatedG: 0, estimatedMl: 0 }] },
    ],
  ])('throws on %s', async (_, question) => {
    await expect(ask(question)).rejects.toThrow(RangeError);
  });
});

describe('what is found', () => {
  it('uses up what there is before what weighs more', async () => {
    const { additions } = await ask({
      candidates: [candidate(straw, { availableG: 40_000 }), candidate(leaves)],
      targets: [target('moisturePercent', null, 60)],
    });
    expect(additions).toMatchObject([{ materialCode: 'leaves' }, { materialCode: 'straw', massG: 40_000 }]);
  });

  it('leaves out what is unknown and says of which figure, and what is used up', async () => {
    const dim = material('dim', { nitrogen: 1 });
    const { leftOut, additions } = await ask({
      candidates: [candidate(dim), candidate(chips, { availableG: 0.4 }), candidate(leaves)],
    });
    expect(leftOut).toEqual([
      {
        materialCode: 'dim',
        why: 'figures-unknown',
        missing: [
          { materialCode: 'dim', figure: 'carbonToNitrogen' },
          { materialCode: 'dim', figure: 'moisturePercent' },
        ],
      },
      { materialCode: 'chips', why: 'none-left', missing: [] },
    ]);
    expect(codes(additions)).toEqual(['leaves']);
  });

  it('by cost takes the cheapest, of unknown cost as of none, and says so', async () => {
    const candidates = [
      candidate(straw, { costPerKg: 0.3 }),
      candidate(leaves, { costPerKg: 0.01 }),
      candidate(chips),
    ];
    const byCost = await ask({ candidates, leastBy: 'cost' });
    expect(byCost).toMatchObject({ state: 'found', cost: null, costUnknown: ['chips'] });
    const paid = await ask({ candidates: candidates.slice(0, 2), leastBy: 'cost' });
    const leavesG = paid.additions[0]!.massG;
    expect(paid).toMatchObject({ additions: [{ materialCode: 'leaves' }], costUnknown: [] });
    expect(paid.cost).toBeCloseTo((leavesG / 1000) * 0.01, 10);
  });

  it('of what costs the same takes the least mass', async () => {
    const targets = [target('moisturePercent', null, 60)];
    const free = [candidate(leaves, { costPerKg: 0 }), candidate(straw, { costPerKg: 0 })];
    expect(codes((await ask({ candidates: free, targets, leastBy: 'cost' })).additions)).toEqual(['straw']);
  });

  it('counts water as mass without volume, so it does not loosen a mix', async () => {
    const dense = target('bulkDensityKgM3', null, 450);
    const { state, unmet } = await ask({ candidates: [candidate(water)], targets: [dense] });
    expect(state).toBe('impossible');
    expect(unmet[0]!.nearest).toBeCloseTo(455, 8);
  });

  it('opens up a mix to the air a permit asks for', async () => {
    const { state, after } = await ask({
      candidates: [candidate(chips), candidate(straw)],
      targets: [target('freeAirSpacePercent', 65, null, 'permit')],
    });
    expect(state).toBe('found');
    expect(after!.value.freeAirSpacePercent).toBeGreaterThanOrEqual(65);
    expect(after!.value.freeAirSpacePercent).toBeLessThan(65.01);
  });

  it('answers a range too narrow for whole grams in parts of one', async () => {
    const parts = [{ material: scraps, massG: 997, estimatedG: 0, estimatedMl: 0 }];
    const { state, after, additions } = await ask({
      parts,
      candidates: [candidate(chips)],
      targets: [target('carbonToNitrogen', 27.123456, 27.123456)],
    });
    expect(state).toBe('found');
    expect(additions[0]!.massG).not.toBe(Math.round(additions[0]!.massG));
    expect(after!.value.carbonToNitrogen).toBeCloseTo(27.123456, 5);
  });

  it('brings the starting list into the preferred ranges, whole', async () => {
    const listed = (code: string) => startingMaterials.find((one) => one.code === code)!;
    const { state, after } = await ask({
      parts: [{ material: listed('food-scraps'), massG: 300_000, estimatedG: 0, estimatedMl: 0 }],
      candidates: [
        candidate(listed('leaves')),
        candidate(listed('shrub-trimmings')),
        candidate(listed('water')),
      ],
      targets: targetsAsked([], 'preferred'),
    });
    expect(state).toBe('found');
    expect(after!.value.carbonToNitrogen).toBeGreaterThanOrEqual(25);
    expect(after!.value.carbonToNitrogen).toBeLessThanOrEqual(30);
    expect(after!.value.moisturePercent).toBeLessThanOrEqual(55);
  });
});

describe('as measured out', () => {
  it('goes by half containers that keep every target, the least that do', async () => {
    const { additions, afterMeasured, missedMeasured } = await ask({
      candidates: [candidate(chips, { measure: barrow }), candidate(water)],
    });
    const [{ massG, volumeMl, dose }] = additions as [AdditionsAnswer['additions'][number]];
    // Half a barrow of chips is 45 L at 250 g/L.
    const halves = Math.ceil(massG / 11_250);
    expect(dose).toEqual({ by: 'container', halves, massG: halves * 11_250, volumeMl: halves * 45_000 });
    expect(volumeMl).toBe(massG * 4);
    expect(missedMeasured).toEqual([]);
    expect(afterMeasured!.estimatedG).toBe(dose.massG);
  });

  it('goes by whole litres up where nothing of known volume is named, and tells the mix with those', async () => {
    const { additions, after, afterMeasured } = await ask({
      candidates: [candidate(chips)],
      targets: [target('moisturePercent', null, 60)],
    });
    const [{ massG, dose }] = additions as [AdditionsAnswer['additions'][number]];
    // 500 kg at 69 % need 112.5 kg of chips at 20 %, which are 450 L at 250 g/L; the first whole litre does.
    expect([massG, dose]).toEqual([
      112_500,
      { by: 'volume', halves: null, massG: 112_500, volumeMl: 450_000 },
    ]);
    const dry = { ...chips, moisturePercent: figure(20.13) };
    const odd = await ask({ candidates: [candidate(dry)], targets: [target('moisturePercent', null, 60)] });
    const rounded = odd.additions[0]!.dose;
    expect(odd.additions[0]!.volumeMl! % 1000).not.toBe(0);
    expect(rounded.volumeMl).toBe(Math.ceil(odd.additions[0]!.volumeMl! / 1000) * 1000);
    expect(rounded.massG).toBe(rounded.volumeMl! / 4);
    expect(odd.afterMeasured!.value.moisturePercent).toBeLessThan(odd.after!.value.moisturePercent!);
    expect(afterMeasured!.value).toEqual(after!.value);
  });

  it('goes by whole kilograms up where the density is unknown', async () => {
    const light = { ...chips, bulkDensityKgM3: null };
    const { additions } = await ask({ candidates: [candidate(light, { measure: barrow })] });
    const [{ massG, volumeMl, dose }] = additions as [AdditionsAnswer['additions'][number]];
    expect([volumeMl, dose]).toEqual([
      null,
      { by: 'mass', halves: null, massG: Math.ceil(massG / 1000) * 1000, volumeMl: null },
    ]);
  });

  it('goes finer where rounding up would step over the other end', async () => {
    const parts = [{ material: scraps, massG: 5_000, estimatedG: 0, estimatedMl: 0 }];
    // 1.8 kg of chips at 20 % make 56 %; they are 7.4 L, and a tenth of a litre more or less is a tenth of a per cent.
    const asked = (min: number, max: number) =>
      ask({ parts, candidates: [candidate(chips)], targets: [target('moisturePercent', min, max)] });
    const wide = await asked(55, 56);
    expect(wide.additions[0]!.dose.volumeMl! % 100).toBe(0);
    const narrow = await asked(55.98, 56);
    expect(narrow.additions[0]!.dose.volumeMl! % 100).not.toBe(0);
    expect(narrow.additions[0]!.dose.volumeMl! % 10).toBe(0);
    for (const { afterMeasured, additions } of [wide, narrow]) {
      expect(afterMeasured!.value.moisturePercent).toBeLessThanOrEqual(56);
      expect(additions[0]!.dose.massG).toBeGreaterThanOrEqual(additions[0]!.massG);
    }
    expect(narrow.afterMeasured!.value.moisturePercent).toBeGreaterThanOrEqual(55.98);
  });

  it('measures out nothing where all there is goes in, and no more than there is', async () => {
    const exact = (await ask({ candidates: [candidate(chips)] })).additions[0]!;
    expect(exact.isAll).toBe(false);
    const asked = (availableG: number) =>
      ask({ candidates: [candidate(chips, { measure: barrow, availableG })] });
    const all = await asked(exact.massG);
    expect(all).toMatchObject({
      missedMeasured: [],
      additions: [{ massG: exact.massG, isAll: true, dose: { by: 'all', massG: exact.massG } }],
    });
    expect(all.afterMeasured).toEqual(all.after);
    const some = await asked(exact.massG + 1);
    expect(some.additions[0]!.dose.massG).toBeLessThanOrEqual(exact.massG + 1);
  });

  it('weighs what half containers are too coarse for, and names for which figures', async () => {
    const { state, missedMeasured, additions, afterMeasured } = await ask({
      parts: [{ material: scraps, massG: 5_000, estimatedG: 0, estimatedMl: 0 }],
      candidates: [candidate(chips, { measure: barrow })],
      targets: [ratio],
    });
    expect([state, missedMeasured]).toEqual(['found', ['carbonToNitrogen']]);
    const [{ massG, dose }] = additions as [AdditionsAnswer['additions'][number]];
    expect(dose).toMatchObject({ by: 'mass', halves: null, massG: Math.ceil(massG / 100) * 100 });
    expect(dose.volumeMl).toBe(dose.massG * 4);
    expect(afterMeasured!.value.carbonToNitrogen).toBeGreaterThanOrEqual(25);
    expect(afterMeasured!.value.carbonToNitrogen).toBeLessThanOrEqual(30);
  });
});

describe('what is impossible', () => {
  it('keeps to what a permit asks, and tells how near the other comes', async () => {
    const manure = material('manure', { nitrogen: 6, carbon: 36, moisture: 60 });
    const wet = target('moisturePercent', null, 65, 'permit');
    const { state, unmet } = await ask({ candidates: [candidate(manure)], targets: [ratio, wet] });
    expect(state).toBe('impossible');
    expect(unmet.map(({ target: { figure: of } }) => of)).toEqual(['carbonToNitrogen']);
    expect(unmet[0]!.nearest).toBeLessThan(25);
  });

  it('names what is kept that stands in the way, and nothing else', async () => {
    const asked = [
      target('carbonToNitrogen', null, 16, 'permit'),
      target('bulkDensityKgM3', null, 2_000),
      target('moisturePercent', null, 50),
    ];
    const { unmet } = await ask({ candidates: [candidate(chips)], targets: asked });
    expect(unmet).toMatchObject([{ target: asked[2], kept: [asked[0]] }]);
    // Without what is kept it would be met.
    expect((await ask({ candidates: [candidate(chips)], targets: asked.slice(1) })).state).toBe('found');
    const alone = await ask({ candidates: [candidate(scraps)], targets: asked.slice(1) });
    expect(alone.unmet).toMatchObject([{ target: asked[2], kept: [] }]);
  });

  it('is reckoned with all that is obtainable where nothing of it would help', async () => {
    const asked = [target('carbonToNitrogen', null, 16), target('moisturePercent', null, 50)];
    const answer = await ask({ candidates: [candidate(water)], obtainable: [chips], targets: asked });
    expect(answer).toMatchObject({ state: 'impossible', wouldHelp: [], together: [] });
    expect(answer.unmet).toMatchObject([{ target: asked[1], kept: [asked[0]] }]);
    // Chips bring it below the 69 % that it has with water alone, as far as C:N lets them.
    expect(answer.unmet[0]!.nearest).toBeLessThan(68.5);
  });

  it('comes no nearer to air than none, and asks for nothing by a least of none', async () => {
    const mud = material('mud', { nitrogen: 1, carbon: 30, moisture: 90, density: 1_300, ash: 10 });
    const parts = [{ material: mud, massG: 500_000, estimatedG: 0, estimatedMl: 0 }];
    const asked = (min: number) => target('freeAirSpacePercent', min, null, 'permit');
    const { state, unmet } = await ask({ parts, candidates: [candidate(water)], targets: [asked(30)] });
    expect([state, unmet[0]!.nearest]).toEqual(['impossible', 0]);
    const wetter = {
      parts,
      candidates: [candidate(water)],
      targets: [asked(0), target('moisturePercent', 91, null)],
    };
    expect((await ask(wetter)).state).toBe('found');
  });

  it('tells more of what there is too little of, and what else could be got', async () => {
    const { wouldHelp, together } = await ask({
      candidates: [candidate(leaves, { availableG: 1_000 }), candidate(water)],
      obtainable: [straw, leaves, scraps, material('dim', { nitrogen: 1 })],
      targets: [target('moisturePercent', null, 60)],
    });
    expect(codes(wouldHelp)).toEqual(['leaves', 'straw']);
    expect(wouldHelp[1]).toMatchObject({
      alongside: [{ materialCode: 'leaves', massG: 1_000, dose: { by: 'all' } }],
    });
    expect(wouldHelp[1]!.volumeMl).toBe(Math.round((wouldHelp[1]!.massG / 60) * 1000));
    expect(together).toEqual([]);
  });

  it('takes no more than a hundred batches of a material together with what there is of it', async () => {
    const mud = material('mud', { moisture: 90 });
    // 300 / 0.298 = 1,006.7 kg of it bring 10 kg to 60 %, and 300 / 0.302 = 993.4 kg of the other.
    const [wet, dry] = [material('damp', { moisture: 59.702 }), material('dryer', { moisture: 59.698 })];
    const question = {
      parts: [{ material: mud, massG: 10_000, estimatedG: 0, estimatedMl: 0 }],
      candidates: [candidate(wet, { availableG: 200_000 })],
      targets: [target('moisturePercent', null, 60)],
    };
    expect((await ask(question)).wouldHelp).toEqual([]);
    const answer = await ask({ ...question, candidates: [candidate(dry, { availableG: 200_000 })] });
    expect(answer.wouldHelp).toMatchObject([{ materialCode: 'dryer' }]);
    expect(answer.wouldHelp[0]!.massG).toBeCloseTo(793_377, -1);
  });

  it('tells all that would do, what donors often bring first, and rounds up what is to be fetched', async () => {
    const named = (code: string) => startingMaterials.find((one) => one.code === code)!;
    const some = ['leaves', 'wood-chips', 'sawdust', 'paper-mixed', 'cardboard', 'hay', 'newsprint'].map(
      named,
    );
    const own = material('own-straw', { nitrogen: 0.5, carbon: 45, moisture: 1, density: 60 });
    const { wouldHelp } = await ask({
      obtainable: [own, ...some],
      targets: [target('moisturePercent', null, 65)],
    });
    const told = codes(wouldHelp);
    expect(told.length).toBeGreaterThan(6);
    expect(new Set(told.slice(0, 2))).toEqual(new Set(['leaves', 'wood-chips']));
    expect(told.at(-1)).toBe('own-straw');
    const masses = wouldHelp.map(({ massG }) => massG);
    expect(masses.slice(2, -1)).toEqual(masses.slice(2, -1).toSorted((a, b) => a - b));
    for (const { dose, massG, volumeMl } of wouldHelp.filter((one) => one.dose.by === 'volume')) {
      expect(dose.volumeMl! % 1000).toBe(0);
      expect(dose.volumeMl).toBeGreaterThanOrEqual(volumeMl!);
      expect(dose.massG).toBeGreaterThanOrEqual(massG);
    }
  });

  it('tells what would do together where no one material does', async () => {
    const rich = material('rich', { nitrogen: 4, carbon: 40, moisture: 10 });
    const { wouldHelp, together } = await ask({
      parts: [
        {
          material: material('pulp', { nitrogen: 0.3, carbon: 45, moisture: 85 }),
          massG: 300_000,
          estimatedG: 0,
          estimatedMl: 0,
        },
      ],
      obtainable: [rich, chips],
      targets: [target('carbonToNitrogen', 30, 40), target('moisturePercent', null, 30)],
    });
    expect(wouldHelp).toEqual([]);
    expect([...codes(together)].sort()).toEqual(['chips', 'rich']);
  });

  it('tells neither where nothing obtainable would do', async () => {
    expect(await ask({ obtainable: [scraps] })).toMatchObject({
      state: 'impossible',
      wouldHelp: [],
      together: [],
    });
  });
});

describe('one stock for several batches', () => {
  it('is handed out in turn, and what the first takes the next has not', async () => {
    const alone = (await ask({ candidates: [candidate(chips)] })).additions[0]!.massG;
    const stock = {
      candidates: [candidate(chips, { availableG: Math.round(alone * 1.5) }), candidate(water)],
      leastBy: 'mass' as const,
      obtainable: [],
    };
    const wants = ['first', 'second'].map((key) => ({ key, parts: batch, targets: [ratio, dampness] }));
    const { answers, leftG } = await withHighs((solve) => handOut(wants, stock, solve));
    expect(answers.map(({ key, answer }) => [key, answer.state])).toEqual([
      ['first', 'found'],
      ['second', 'impossible'],
    ]);
    // What is there and what is to be got together do for the second, as they did for the first.
    const [help] = answers[1]!.answer.wouldHelp;
    const put = help!.alongside.find(({ materialCode }) => materialCode === 'chips')!.massG;
    expect(Math.abs(help!.massG + put - alone)).toBeLessThan(10);
    expect(leftG).toEqual(new Map([['chips', 0]]));
  });

  it('leaves what nobody needs', async () => {
    const stock = {
      candidates: [candidate(chips, { availableG: 7 })],
      leastBy: 'mass' as const,
      obtainable: [],
    };
    const wants = [{ key: 1, parts: batch, targets: [] }];
    expect((await withHighs((solve) => handOut(wants, stock, solve))).leftG).toEqual(new Map([['chips', 7]]));
  });
});
