import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  compareRecipe,
  missingOf,
  type Recipe,
  recipeBases,
  type RecipePart,
  scaleRecipe,
} from '#libs/materials';
import { material, water } from '../../support/material.js';

const scraps = material('food-scraps', { bulkDensityKgM3: 500 });
const coffee = material('coffee-grounds', { bulkDensityKgM3: 400 });
const chips = material('wood-chips', { bulkDensityKgM3: 250 });
const straw = material('straw');

const from = (source: 'hub' | 'stock', made: RecipePart['material'], parts: number): RecipePart => ({
  ...{ material: made, parts, fromDropOffs: source === 'hub' },
});
/** Two buckets of scraps and one of grounds to six of chips and half a bucket of water. */
const buckets: Recipe = {
  basis: 'volume',
  parts: [from('hub', scraps, 2), from('hub', coffee, 1), from('stock', chips, 6), from('stock', water, 0.5)],
};
const grams = (amounts: Record<string, number>) => new Map(Object.entries(amounts));
const codes = (parts: readonly { materialCode: string }[]) => parts.map(({ materialCode }) => materialCode);

describe('scaling a recipe', () => {
  it('takes the rest in proportion to what the hubs brought, by volume', () => {
    // By hand: 100 L of scraps and 50 L of grounds are three parts, so a part is 50 L.
    const { parts } = scaleRecipe(buckets, grams({ 'food-scraps': 50_000, 'coffee-grounds': 20_000 }));
    expect(parts.map(({ expected }) => expected)).toEqual([
      { massG: 50_000, volumeMl: 100_000 },
      { massG: 20_000, volumeMl: 50_000 },
      { massG: 75_000, volumeMl: 300_000 },
      { massG: 25_000, volumeMl: 25_000 },
    ]);
    expect(parts[0]!.present).toEqual({ massG: 50_000, volumeMl: 100_000 });
  });

  it('takes as much of the rest where one drop-off stands for another', () => {
    const { parts } = scaleRecipe(buckets, grams({ 'food-scraps': 75_000 }));
    expect(parts[2]!.expected).toEqual({ massG: 75_000, volumeMl: 300_000 });
    expect(parts[1]).toMatchObject({ expected: { volumeMl: 50_000 }, present: { massG: 0, volumeMl: 0 } });
  });

  it('goes by mass where the parts are by mass, whatever the densities', () => {
    const recipe: Recipe = { basis: 'mass', parts: [from('hub', scraps, 3), from('stock', straw, 1)] };
    const scaled = scaleRecipe(recipe, grams({ 'food-scraps': 100_000 }));
    expect(scaled.parts[1]!.expected).toEqual({ massG: 33_333, volumeMl: null });
    expect(scaled.missing).toEqual([{ materialCode: 'straw', figure: 'bulkDensityKgM3' }]);
    expect(scaled.uncounted).toEqual([]);
  });

  it('asks for nothing where nothing came', () => {
    const { parts } = scaleRecipe(buckets, grams({}));
    for (const { expected } of parts) expect(expected).toEqual({ massG: 0, volumeMl: 0 });
  });

  it('counts by volume what has a density, and says what has none', () => {
    const recipe: Recipe = {
      basis: 'volume',
      parts: [from('hub', scraps, 1), from('hub', straw, 1), from('stock', chips, 2)],
    };
    const scaled = scaleRecipe(recipe, grams({ 'food-scraps': 50_000, straw: 4_000 }));
    expect(scaled.uncounted).toEqual(['straw']);
    expect(codes(scaled.missing)).toEqual(['straw']);
    expect(scaled.parts[1]).toMatchObject({
      expected: { massG: null, volumeMl: 100_000 },
      present: { massG: 4_000, volumeMl: null },
    });
    expect(scaled.parts[2]!.expected).toEqual({ massG: 50_000, volumeMl: 200_000 });
    const alone = scaleRecipe(recipe, grams({ straw: 4_000 }));
    // A hub that brought no scraps brought 0 L of them; the straw beside them stays uncounted.
    expect(alone.parts[2]!.expected).toEqual({ massG: 0, volumeMl: 0 });
    const nothingCounted: Recipe = {
      basis: 'volume',
      parts: [from('hub', straw, 1), from('stock', chips, 2)],
    };
    expect(scaleRecipe(nothingCounted, grams({ straw: 4_000 })).parts[1]!.expected).toEqual({
      massG: null,
      volumeMl: null,
    });
  });

  it('names what is there and in no part of it', () => {
    const { notInRecipe } = scaleRecipe(buckets, grams({ 'food-scraps': 1, hay: 7_000, leaves: 0 }));
    expect(notInRecipe).toEqual([{ materialCode: 'hay', massG: 7_000 }]);
  });

  it.each([-1, Number.NaN, Number.POSITIVE_INFINITY])('refuses a mass of %d', (massG) => {
    expect(() => scaleRecipe(buckets, grams({ 'wood-chips': massG }))).toThrow(RangeError);
  });
});

describe('comparing a recipe with what went in', () => {
  it('tells by how much each part is off, in mass, volume and per cent', () => {
    const wentIn = grams({ 'food-scraps': 50_000, 'coffee-grounds': 20_000, 'wood-chips': 60_000, hay: 500 });
    const { parts, notInRecipe } = compareRecipe(buckets, wentIn);
    expect(parts.map(({ difference }) => difference)).toEqual([
      { massG: 0, volumeMl: 0, percent: 0 },
      { massG: 0, volumeMl: 0, percent: 0 },
      { massG: -15_000, volumeMl: -60_000, percent: -20 },
      { massG: -25_000, volumeMl: -25_000, percent: -100 },
    ]);
    expect(codes(notInRecipe)).toEqual(['hay']);
  });

  it('tells no per cent of nothing, and no difference from what is unknown', () => {
    const { parts } = compareRecipe(buckets, grams({ 'wood-chips': 2_500 }));
    expect(parts[2]!.difference).toEqual({ massG: 2_500, volumeMl: 10_000, percent: null });
    const byVolume: Recipe = { basis: 'volume', parts: [from('hub', scraps, 1), from('stock', straw, 1)] };
    const { difference } = compareRecipe(byVolume, grams({ 'food-scraps': 9_000, straw: 900 })).parts[1]!;
    expect(difference).toEqual({ massG: null, volumeMl: null, percent: null });
  });

  const parts = fc.double({ min: 0.1, max: 50, noNaN: true });
  const density = fc.double({ min: 20, max: 1_500, noNaN: true });
  const mass = fc.integer({ min: 0, max: 50_000_000 });
  const recipes = fc
    .record({
      basis: fc.constantFrom(...recipeBases),
      hub: fc.array(fc.record({ parts, density, massG: mass }), { minLength: 1, maxLength: 4 }),
      stock: fc.array(fc.record({ parts, density }), { minLength: 1, maxLength: 4 }),
    })
    .map(({ basis, hub, stock }) => {
      const made = (one: { parts: number; density: number }, index: number, source: 'hub' | 'stock') =>
        from(source, material(`${source}-${index}`, { bulkDensityKgM3: one.density }), one.parts);
      const recipe: Recipe = {
        basis,
        parts: [
          ...hub.map((one, index) => made(one, index, 'hub')),
          ...stock.map((one, index) => made(one, index, 'stock')),
        ],
      };
      return { recipe, brought: new Map(hub.map(({ massG }, index) => [`hub-${index}`, massG])) };
    });
  const took = (recipe: Recipe, brought: ReadonlyMap<string, number>) => {
    const { parts } = scaleRecipe(recipe, brought);
    const fromStock = parts.filter(({ fromDropOffs }) => !fromDropOffs);
    return new Map([
      ...brought,
      ...fromStock.map((part) => [part.materialCode, part.expected.massG!] as const),
    ]);
  };

  it('finds nothing amiss with what was taken as it says', () => {
    fc.assert(
      fc.property(recipes, ({ recipe, brought }) => {
        const compared = compareRecipe(recipe, took(recipe, brought));
        for (const { fromDropOffs, difference } of compared.parts) {
          if (fromDropOffs) continue;
          expect(difference.massG).toBe(0);
          expect(difference.volumeMl).toBe(0);
          expect(difference.percent ?? 0).toBe(0);
        }
        expect(compared.notInRecipe).toEqual([]);
      }),
    );
  });

  it('finds nothing amiss at all where one drop-off sets the size', () => {
    fc.assert(
      fc.property(recipes, ({ recipe: { basis, parts: all }, brought }) => {
        const recipe = { basis, parts: all.filter((part, index) => index === 0 || !part.fromDropOffs) };
        const own = new Map([['hub-0', brought.get('hub-0')!]]);
        for (const { difference } of compareRecipe(recipe, took(recipe, own)).parts)
          expect(difference).toMatchObject({ massG: 0, volumeMl: 0 });
      }),
    );
  });

  it('asks twice as much of everything for twice the drop-offs', () => {
    fc.assert(
      fc.property(recipes, ({ recipe, brought }) => {
        const once = scaleRecipe(recipe, brought).parts;
        const doubled = new Map([...brought].map(([code, massG]) => [code, massG * 2]));
        scaleRecipe(recipe, doubled).parts.forEach(({ expected }, index) => {
          expect(Math.abs(expected.massG! - 2 * once[index]!.expected.massG!)).toBeLessThanOrEqual(1);
        });
      }),
    );
  });

  it('shares what the drop-offs are off among themselves: by mass they differ by nothing in all', () => {
    fc.assert(
      fc.property(recipes, ({ recipe, brought }) => {
        const { parts } = compareRecipe({ ...recipe, basis: 'mass' }, brought);
        const ofHubs = parts.filter(({ fromDropOffs }) => fromDropOffs);
        const total = ofHubs.reduce((sum, { difference }) => sum + difference.massG!, 0);
        expect(Math.abs(total)).toBeLessThanOrEqual(ofHubs.length / 2);
      }),
    );
  });
});

describe('what is missing in stock', () => {
  const amount = (massG: number | null, volumeMl: number | null) => ({ massG, volumeMl });

  it('is what the recipe has beyond what lies there, and unknown where either is', () => {
    expect(missingOf(amount(90_000, 360_000), amount(22_500, 90_000))).toEqual(amount(67_500, 270_000));
    expect(missingOf(amount(9, 30), amount(10, 40))).toEqual(amount(0, 0));
    expect(missingOf(amount(null, 30), amount(10, null))).toEqual(amount(null, null));
  });
});

describe('a part of which nothing went in', () => {
  it('differs by the volume that the recipe has, to the last digit', () => {
    const parts = [from('hub', scraps, 1), from('stock', material('light', { bulkDensityKgM3: 237 }), 3)];
    const { parts: compared } = compareRecipe({ basis: 'mass', parts }, grams({ 'food-scraps': 30_124 }));
    const { expected, difference } = compared[1]!;
    // 90,372 g at 237 kg/m³ are 381,316.5 mL.
    expect(expected).toEqual({ massG: 90_372, volumeMl: 381_316 });
    expect(difference).toMatchObject({ massG: -90_372, volumeMl: -381_316, percent: -100 });
  });
});
