import { describe, expect, it } from 'vitest';
import { startingMaterials } from '#libs/materials';
import {
  ask,
  candidate,
  chips,
  codes,
  leaves,
  material,
  ratio,
  scraps,
  straw,
  target,
  water,
} from './additions-example.js';

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
