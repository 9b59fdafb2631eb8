import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  estimateGreenhouse,
  greenhouseSetCodes,
  greenhouseSets,
  wasteCategories,
  type GreenhouseInput,
} from '#libs/accounting';

const food: GreenhouseInput = { category: 'food', material: 'Food scraps', massKg: 9071.847 };
const peels: GreenhouseInput = { category: 'food', material: 'Peels', massKg: 71.847 };

describe('estimateGreenhouse', () => {
  it('gathers the materials of a category and tells its mass', () => {
    const { lines, total, unknownKg } = estimateGreenhouse('us-epa-warm-16', [
      { ...food, massKg: 9000 },
      peels,
    ]);
    expect(lines).toEqual([
      {
        category: 'food',
        materials: ['Food scraps', 'Peels'],
        massKg: 9071.847,
        compostingTCo2e: -1.521,
        landfillTCo2e: 5.015,
        differenceTCo2e: -6.536,
      },
    ]);
    expect(total).toMatchObject({ massKg: 9071.847, differenceTCo2e: -6.536 });
    expect(unknownKg).toBe(0);
  });

  it('rounds each figure once: a total is no sum of rounded lines', () => {
    const ofEach = wasteCategories
      .filter((category) => category !== 'other')
      .map((category) => ({ category, material: category, massKg: 4 }));
    const { lines, total } = estimateGreenhouse('ipcc-2006-ar4', ofEach);
    expect(lines.map(({ compostingTCo2e }) => compostingTCo2e)).toEqual(Array(6).fill(0.001));
    expect(total.compostingTCo2e).toBe(0.004); // 24 kg × 0.17152 = 4.116 kg
  });

  it('prints the sign as the method gives it, and says where composting scores worse', () => {
    const leaves = { category: 'leaves', material: 'Leaves', massKg: 1000 } as const;
    const { lines, notes } = estimateGreenhouse('us-epa-warm-15', [food, leaves]);
    expect(lines.map(({ differenceTCo2e }) => differenceTCo2e! > 0)).toEqual([false, true]);
    expect(notes.filter((note) => note.includes('scores worse than landfill for leaves:'))).toHaveLength(1);
    const without = estimateGreenhouse('us-epa-warm-15', [food]).notes;
    expect(without.some((note) => note.includes('scores worse'))).toBe(false);
  });

  it('leaves what it has no factor for out of every total, and names it', () => {
    const unsaid = { category: null, material: 'Oyster shells', massKg: 50 };
    const mixed = { category: 'mixed-organics', material: 'Green cart', massKg: 70 } as const;
    const estimate = estimateGreenhouse('us-epa-warm-15', [food, unsaid, mixed]);
    expect(
      estimate.lines.map(({ category, compostingTCo2e }) => [category, compostingTCo2e === null]),
    ).toEqual([
      ['food', false],
      ['mixed-organics', true],
      ['other', true],
    ]);
    expect(estimate.unknownKg).toBe(120);
    expect(estimate.total.massKg).toBe(9071.847);
    expect(estimate.notes.join(' ')).toMatch(
      /mixed organics \(Green cart\).*other material \(Oyster shells\)/,
    );
    expect(estimate.factors).toHaveLength(2);
  });

  it('gives no total where it knows nothing at all', () => {
    const { total, factors } = estimateGreenhouse('ipcc-2006-ar6', [
      { category: 'other', material: 'Egg shells', massKg: 5 },
    ]);
    expect(total).toEqual({
      massKg: 0,
      compostingTCo2e: null,
      landfillTCo2e: null,
      differenceTCo2e: null,
    });
    expect(factors).toEqual([]);
  });

  it('never says minus nothing', () => {
    const { lines } = estimateGreenhouse('us-epa-warm-16', [{ ...food, massKg: 0 }]);
    expect(Object.is(lines[0]!.compostingTCo2e, 0)).toBe(true);
  });

  it('refuses a set that there is not, and a mass below zero', () => {
    expect(() => estimateGreenhouse('us-epa-warm-14', [food])).toThrow(RangeError);
    expect(() => estimateGreenhouse('us-epa-warm-16', [{ ...food, massKg: -1 }])).toThrow(RangeError);
  });

  it('accounts for every gram, known or unknown, in any mixture', () => {
    const input = fc.record({
      category: fc.option(fc.constantFrom(...wasteCategories)),
      material: fc.string({ maxLength: 3 }),
      massKg: fc.integer({ min: 0, max: 10 ** 9 }).map((massG) => massG / 1000),
    });
    fc.assert(
      fc.property(
        fc.constantFrom(...greenhouseSetCodes),
        fc.array(input, { maxLength: 20 }),
        (set, inputs) => {
          const { lines, total, unknownKg } = estimateGreenhouse(set, inputs);
          const grams = (masses: number[]) => masses.reduce((sum, kg) => sum + Math.round(kg * 1000), 0);
          expect(grams(lines.map(({ massKg }) => massKg))).toBe(grams(inputs.map(({ massKg }) => massKg)));
          expect(grams([total.massKg, unknownKg])).toBe(grams(inputs.map(({ massKg }) => massKg)));
        },
      ),
      { numRuns: 60 },
    );
  });
});

describe('greenhouseSets', () => {
  it('are those of the codes, each with its version, source and how far it was checked', () => {
    expect(greenhouseSets.map(({ code }) => code)).toEqual(greenhouseSetCodes);
    for (const { version, source, checked, notes } of greenhouseSets)
      for (const text of [version, source, checked, ...notes]) expect(text.length).toBeGreaterThan(3);
  });

  it('know a landfill for every category or for none', () => {
    for (const { byCategory } of greenhouseSets)
      expect(new Set(Object.values(byCategory).map(({ landfill }) => landfill === null)).size).toBe(1);
  });

  it('have nothing for what is called other', () => {
    for (const { byCategory } of greenhouseSets) expect(byCategory.other).toBeUndefined();
  });
});
