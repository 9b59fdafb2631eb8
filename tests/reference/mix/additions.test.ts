/**
 * Sources, all as told in docs/sources.md:
 * - Cornell Composting, moisture: "Q2= ((10 kg)(60) - (10 kg)(77)) / (35 - 60) = 6.8 kg leaves", read on a third-party copy.
 * - Cornell Composting, C/N ratio (compost.css.cornell.edu/calc/cn_ratio.html): 10 kg of grass and 3.5 kg of leaves; inputs
 *   and answer from memory.
 * - Water to add, W = Q (G − M) / (100 − G): derived from the moisture formula with M2 = 100.
 * - Cornell Composting, simultaneous solution (compost.css.cornell.edu/calc/simultaneous.html): "There is no way to bring
 *   the moisture content of a mix down by adding more of a wet ingredient". And a copy of the Cornell spreadsheet: "A
 *   negative number indicates that a simultaneous solution for these goals is not possible".
 */
import { describe, expect, it } from 'vitest';
import { type AdditionsAnswer, type AdditionsQuestion, additionsFor, withHighs } from '#libs/materials';
import { candidate, material, target, water } from '../../unit/materials/additions-example.js';
import { secondForCarbonToNitrogenG, secondForMoistureG, waterForMoistureG } from './two-materials.js';

const ask = (question: Partial<AdditionsQuestion>): Promise<AdditionsAnswer> =>
  withHighs((solve) =>
    additionsFor(
      { parts: [], candidates: [], targets: [], leastBy: 'mass', obtainable: [], ...question },
      solve,
    ),
  );

const grass = material('grass', { nitrogen: 2.4, carbon: 45, moisture: 77 });
const leaves = material('leaves', { nitrogen: 0.75, carbon: 50, moisture: 35 });
const tenKgOfGrass = [{ material: grass, massG: 10_000, estimatedG: 0, estimatedMl: 0 }];

describe('one material, one goal: the closed formulas', () => {
  it('10 kg of grass at 77 % take "6.8 kg leaves" at 35 % for 60 %', async () => {
    const { state, additions, after } = await ask({
      parts: tenKgOfGrass,
      candidates: [candidate(leaves)],
      targets: [target('moisturePercent', null, 60)],
    });
    expect(state).toBe('found');
    expect(additions).toMatchObject([{ materialCode: 'leaves', massG: 6_800 }]);
    expect(additions[0]!.massG).toBeCloseTo(secondForMoistureG(10_000, 77, 35, 60), 6);
    expect(after!.value.moisturePercent).toBe(60);
  });

  it('10 kg of grass take about 3.5 kg of leaves for a C:N of 30 (from memory)', async () => {
    const { additions } = await ask({
      parts: tenKgOfGrass,
      candidates: [candidate(leaves)],
      targets: [target('carbonToNitrogen', 30, null)],
    });
    const formula = secondForCarbonToNitrogenG(
      10_000,
      { nitrogenPercentDry: 2.4, carbonPercentDry: 45, moisturePercent: 77 },
      { nitrogenPercentDry: 0.75, carbonPercentDry: 50, moisturePercent: 35 },
      30,
    );
    expect(additions[0]!.massG).toBe(Math.ceil(formula));
    expect(additions[0]!.massG / 1000).toBeCloseTo(3.5, 1);
  });

  it('1,000 kg at 40 % take 333 kg of water for 55 %', async () => {
    const { additions } = await ask({
      parts: [
        { material: material('dry', { moisture: 40 }), massG: 1_000_000, estimatedG: 0, estimatedMl: 0 },
      ],
      candidates: [candidate(water)],
      targets: [target('moisturePercent', 55, null)],
    });
    expect(additions).toMatchObject([{ materialCode: 'water', massG: 333_334, volumeMl: 333_334 }]);
    expect(additions[0]!.massG).toBe(Math.ceil(waterForMoistureG(1_000_000, 40, 55)));
  });
});

describe('two goals at once', () => {
  // Leaves for the ratio, water for the moisture: 10 kg of grass at 60 % and not 77, so that water is wanted.
  const dried = material('dried-grass', { nitrogen: 2.4, carbon: 45, moisture: 40 });
  const parts = [{ material: dried, massG: 10_000, estimatedG: 0, estimatedMl: 0 }];

  it('water is one of the unknowns, and both equations hold as solved by hand', async () => {
    const { additions, after } = await ask({
      parts,
      candidates: [candidate(leaves), candidate(water)],
      targets: [target('carbonToNitrogen', 30, null), target('moisturePercent', 55, null)],
    });
    // The ratio does not know water, so it settles the leaves; then W = Σ Q (G − M) / (100 − G).
    const leavesG = (10_000 * (30 * 2.4 - 45) * 60) / ((50 - 30 * 0.75) * 65);
    const waterG = (10_000 * (55 - 40) + leavesG * (55 - 35)) / 45;
    const massOf = (code: string) => additions.find(({ materialCode }) => materialCode === code)!.massG;
    expect(Math.abs(massOf('leaves') - leavesG)).toBeLessThan(3);
    expect(Math.abs(massOf('water') - waterG)).toBeLessThan(3);
    expect(after!.value.carbonToNitrogen).toBeGreaterThanOrEqual(30);
    expect(after!.value.moisturePercent).toBeGreaterThanOrEqual(55);
  });

  it('where the equations ask for a negative mass, a solution "is not possible"', async () => {
    // Too wet already: the ratio takes leaves as wet as the goal, and the moisture would take less than no water.
    const wetLeaves = material('wet-leaves', { nitrogen: 0.75, carbon: 50, moisture: 60 });
    const { state, additions, unmet } = await ask({
      parts: tenKgOfGrass,
      candidates: [candidate(wetLeaves), candidate(water)],
      targets: [target('carbonToNitrogen', 30, 30.5), target('moisturePercent', null, 55)],
    });
    expect(state).toBe('impossible');
    expect(additions).toEqual([]);
    expect(unmet.map(({ target: { figure } }) => figure)).toEqual(['moisturePercent']);
  });
});

describe('"no way to bring the moisture content of a mix down by adding more of a wet ingredient"', () => {
  it('is impossible, comes no lower than what is wettest allows, and dry leaves would help', async () => {
    const manure = material('manure', { nitrogen: 1.7, carbon: 31, moisture: 79 });
    const answer = await ask({
      parts: tenKgOfGrass,
      candidates: [candidate(manure), candidate(water)],
      targets: [target('moisturePercent', null, 60)],
      obtainable: [leaves, manure],
    });
    expect(answer.state).toBe('impossible');
    expect(answer.unmet[0]!.nearest).toBeCloseTo(77, 6);
    expect(answer.wouldHelp).toMatchObject([{ materialCode: 'leaves', alongside: [] }]);
    // 6.8 kg by the formula, and the room for rounding.
    expect(answer.wouldHelp[0]!.massG - 6_800).toBeGreaterThanOrEqual(0);
    expect(answer.wouldHelp[0]!.massG - 6_800).toBeLessThan(5);
  });
});
