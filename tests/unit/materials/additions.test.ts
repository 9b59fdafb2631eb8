import { describe, expect, it } from 'vitest';
import { handOut, startingMaterials, targetsAsked, withHighs } from '#libs/materials';
import {
  ask,
  batch,
  candidate,
  chips,
  codes,
  dampness,
  leaves,
  material,
  ratio,
  scraps,
  straw,
  target,
  water,
} from './additions-example.js';

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
