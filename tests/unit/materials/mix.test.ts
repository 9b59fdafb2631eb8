import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type MaterialFigures, type MixPart, mixFigures, mixOf } from '#libs/materials';
import { figure, material, water } from '../../support/material.js';

const weighed = (one: MaterialFigures, massG: number): MixPart => ({
  material: one,
  massG,
  estimatedG: 0,
  estimatedMl: 0,
});

const scraps = material('scraps', {
  class: 'nitrogen',
  nitrogenPercentDry: 2.4,
  carbonToNitrogen: 15,
  moisturePercent: 70,
  bulkDensityKgM3: 450,
});
const leaves = material('leaves', {
  class: 'carbon',
  nitrogenPercentDry: 0.9,
  carbonToNitrogen: 54,
  moisturePercent: 38,
  bulkDensityKgM3: 120,
});
const ash = material('ash', {
  kind: 'mineral',
  ashPercentDry: 100,
  moisturePercent: 0,
  bulkDensityKgM3: 600,
});
const overs = material('overs', { class: 'carbon' });

describe('a mix', () => {
  it('of one material has the figures of that material', () => {
    const mix = mixOf([weighed(scraps, 90_000)]);
    expect(mix.value.carbonToNitrogen).toBeCloseTo(15, 10);
    expect(mix.value.moisturePercent).toBeCloseTo(70, 10);
    expect(mix.value.bulkDensityKgM3).toBeCloseTo(450, 10);
    expect(mix.volumeMl).toBe(200_000);
    expect(mix.missing).toEqual([]);
    expect(mix.greensToBrowns).toEqual({ byMass: null, byVolume: null });
  });

  it('tells what was weighed from what was estimated', () => {
    const mix = mixOf([
      { material: scraps, massG: 60_000, estimatedG: 20_000, estimatedMl: 50_000 },
      { material: leaves, massG: 10_000, estimatedG: 10_000, estimatedMl: 90_000 },
    ]);
    expect(mix).toMatchObject({ massG: 70_000, weighedG: 40_000, estimatedG: 30_000 });
  });

  it('grows wetter, heavier and shorter of air with water, while its C:N and volume stay', () => {
    const dry = mixOf([weighed(leaves, 120_000)]);
    const wet = mixOf([weighed(leaves, 120_000), weighed(water, 60_000)]);
    expect(wet.value.carbonToNitrogen).toBe(dry.value.carbonToNitrogen);
    expect(wet.value.moisturePercent).toBeCloseTo((38 * 120 + 100 * 60) / 180, 10);
    expect([dry.volumeMl, wet.volumeMl]).toEqual([1_000_000, 1_000_000]);
    expect(wet.value.bulkDensityKgM3).toBeCloseTo(180, 10);
    expect(wet.value.freeAirSpacePercent).toBeCloseTo(dry.value.freeAirSpacePercent! - 6, 10);
    expect(wet.missing).toEqual([]);
  });

  it('takes mineral ash as dry mass without carbon or nitrogen', () => {
    const mix = mixOf([weighed(scraps, 90_000), weighed(ash, 10_000)]);
    expect(mix.value.carbonToNitrogen).toBeCloseTo(15, 10);
    expect(mix.value.moisturePercent).toBeCloseTo(63, 10);
    expect(mix.knownMassShare.carbonToNitrogen).toBe(1);
  });

  it('puts greens to browns by mass and by volume', () => {
    const mix = mixOf([weighed(scraps, 90_000), weighed(leaves, 30_000), weighed(ash, 5_000)]);
    expect(mix.greensToBrowns).toEqual({ byMass: 3, byVolume: 200 / 250 });
    const unknown = mixOf([weighed(scraps, 90_000), weighed(leaves, 15_000), weighed(overs, 15_000)]);
    expect(unknown.greensToBrowns).toEqual({ byMass: 3, byVolume: null });
  });
});

interface Point {
  readonly figures: Readonly<
    Record<
      'nitrogenPercentDry' | 'carbonPercentDry' | 'ashPercentDry' | 'moisturePercent' | 'bulkDensityKgM3',
      number
    >
  >;
  readonly massG: number;
}

describe('blending', () => {
  const point: fc.Arbitrary<Point> = fc
    .record({
      nitrogenPercentDry: fc.double({ min: 0.1, max: 4, noNaN: true }),
      carbonPercentDry: fc.double({ min: 10, max: 55, noNaN: true }),
      ashPercentDry: fc.double({ min: 0, max: 40, noNaN: true }),
      moisturePercent: fc.double({ min: 0, max: 90, noNaN: true }),
      bulkDensityKgM3: fc.double({ min: 50, max: 900, noNaN: true }),
      massG: fc.integer({ min: 1, max: 10_000_000 }),
    })
    .map(({ massG, ...figures }) => ({ figures, massG }));
  const partOf = ({ figures, massG }: Point, index: number): MixPart =>
    weighed(material(`m${index}`, figures), massG);

  /** Two materials as the one they make, from the balance of each constituent. */
  function blended(one: Point, other: Point): Point {
    const massG = one.massG + other.massG;
    const dry = ({ figures, massG: g }: Point) => g * (1 - figures.moisturePercent / 100);
    const dryG = dry(one) + dry(other);
    const ofDry = (name: 'nitrogenPercentDry' | 'carbonPercentDry' | 'ashPercentDry') =>
      (dry(one) * one.figures[name] + dry(other) * other.figures[name]) / dryG;
    const litres = one.massG / one.figures.bulkDensityKgM3 + other.massG / other.figures.bulkDensityKgM3;
    const figures = {
      nitrogenPercentDry: ofDry('nitrogenPercentDry'),
      carbonPercentDry: ofDry('carbonPercentDry'),
      ashPercentDry: ofDry('ashPercentDry'),
      moisturePercent: 100 * (1 - dryG / massG),
      bulkDensityKgM3: massG / litres,
    };
    return { figures, massG };
  }

  it('two first and the third after makes the same mix', () => {
    fc.assert(
      fc.property(point, point, point, (a, b, c) => {
        const once = mixOf([a, b, c].map(partOf));
        const inTurn = mixOf([blended(a, b), c].map(partOf));
        for (const name of mixFigures) {
          const value = once.value[name]!;
          expect(Math.abs(inTurn.value[name]! - value)).toBeLessThanOrEqual(1e-9 * Math.max(1, value));
        }
      }),
    );
  });

  it('has the same digits in any order, and in any number of lots', () => {
    fc.assert(
      fc.property(fc.array(point, { minLength: 1, maxLength: 8 }), fc.integer(), (points, seed) => {
        const parts = points.map(partOf);
        const lots = parts.flatMap(({ material: one, massG }) => {
          const firstG = Math.abs(seed) % massG;
          return [weighed(one, firstG), weighed(one, massG - firstG)];
        });
        expect(mixOf(lots.toReversed())).toEqual(mixOf(parts));
      }),
    );
  });

  it('lies between its materials', () => {
    fc.assert(
      fc.property(fc.array(point, { minLength: 1, maxLength: 8 }), (points) => {
        const parts = points.map(partOf);
        const alone = parts.map((part) => mixOf([part]).value);
        const mix = mixOf(parts);
        for (const name of mixFigures) {
          const values = alone.map((one) => one[name]!);
          expect(mix.value[name]).toBeGreaterThanOrEqual(Math.min(...values) * (1 - 1e-9));
          expect(mix.value[name]).toBeLessThanOrEqual(Math.max(...values) * (1 + 1e-9) + 1e-9);
          expect(mix.knownMassShare[name]).toBe(1);
        }
      }),
    );
  });
});

describe('unknown figures', () => {
  it('are named, and the rest is computed from what is known', () => {
    const mix = mixOf([weighed(scraps, 75_000), weighed(overs, 15_000), weighed(overs, 10_000)]);
    expect(mix.value.carbonToNitrogen).toBeCloseTo(15, 10);
    expect(mix.knownMassShare).toEqual({
      carbonToNitrogen: 0.75,
      moisturePercent: 0.75,
      bulkDensityKgM3: 0.75,
      freeAirSpacePercent: 0.75,
    });
    expect(mix.value.bulkDensityKgM3).toBeCloseTo(450, 10);
    expect(mix.volumeMl).toBeNull();
    expect(mix.missing.map((one) => `${one.materialCode} ${one.figure}`)).toEqual([
      'overs nitrogenPercentDry',
      'overs carbonToNitrogen',
      'overs moisturePercent',
      'overs bulkDensityKgM3',
    ]);
  });

  it('keep nitrogen out of C:N when the moisture is unknown', () => {
    const grounds = material('grounds', { nitrogenPercentDry: 2, carbonToNitrogen: 20 });
    const mix = mixOf([weighed(leaves, 50_000), weighed(grounds, 50_000)]);
    expect(mix.value.carbonToNitrogen).toBeCloseTo(54, 10);
    expect(mix.knownMassShare.carbonToNitrogen).toBe(0.5);
    expect(mix.missing).toContainEqual({ materialCode: 'grounds', figure: 'moisturePercent' });
  });

  it('give no figure when nothing is known', () => {
    const none = {
      carbonToNitrogen: null,
      moisturePercent: null,
      bulkDensityKgM3: null,
      freeAirSpacePercent: null,
    };
    expect(mixOf([weighed(overs, 5_000)])).toMatchObject({ value: none, range: none, volumeMl: null });
    expect(mixOf([])).toMatchObject({ value: none, range: none, massG: 0, volumeMl: 0, missing: [] });
  });

  it('of water alone are none, yet it is no heap', () => {
    const mix = mixOf([weighed(water, 5_000)]);
    expect(mix.value).toMatchObject({ carbonToNitrogen: null, moisturePercent: 100, bulkDensityKgM3: null });
    expect(mix).toMatchObject({ missing: [], volumeMl: 0 });
  });
});

describe('impossible input', () => {
  it.each([
    { nitrogenPercentDry: figure(-1) },
    { nitrogenPercentDry: figure(Number.NaN) },
    { carbonToNitrogen: figure(0) },
    { carbonToNitrogen: figure(Number.POSITIVE_INFINITY) },
    { ashPercentDry: figure(101) },
    { moisturePercent: figure(100) },
    { moisturePercent: figure([70, 60, 100]) },
    { moisturePercent: figure([70, 75, 80]) },
    { moisturePercent: figure([70, null, 65]) },
    { bulkDensityKgM3: figure(0) },
  ])('refuses figures %j', (figures) => {
    expect(() => mixOf([weighed({ ...scraps, ...figures }, 1)])).toThrow(RangeError);
  });

  it('refuses masses that cannot be', () => {
    for (const massG of [-1, Number.NaN, Number.POSITIVE_INFINITY]) {
      expect(() => mixOf([weighed(scraps, massG)])).toThrow(RangeError);
    }
    for (const estimatedG of [-1, 101, Number.NaN]) {
      expect(() => mixOf([{ material: scraps, massG: 100, estimatedG, estimatedMl: 100 }])).toThrow(
        RangeError,
      );
    }
    for (const [estimatedG, estimatedMl] of [
      [50, 0],
      [50, -1],
      [50, Infinity],
      [0, 100],
    ] as const) {
      expect(() => mixOf([{ material: scraps, massG: 100, estimatedG, estimatedMl }])).toThrow(RangeError);
    }
  });

  it('refuses one code for two sets of figures', () => {
    const other = { ...scraps, moisturePercent: figure(71) };
    expect(() => mixOf([weighed(scraps, 1), weighed(other, 1)])).toThrow(RangeError);
    expect(() => mixOf([weighed(scraps, 1), weighed({ ...scraps }, 1)])).not.toThrow();
  });
});
