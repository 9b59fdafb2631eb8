import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type MaterialFigures, mixOf, moisturePercentFromDrying, startingMaterials } from '#libs/materials';
import { figure as point } from '../../support/material.js';

const material = (code: string): MaterialFigures => startingMaterials.find((row) => row.code === code)!;
const food = material('food-scraps');
const leaves = material('leaves');
const water = material('water');
const wellKnown = startingMaterials.filter(
  (row) =>
    row.nitrogenPercentDry !== null &&
    row.carbonToNitrogen !== null &&
    row.moisturePercent !== null &&
    row.bulkDensityKgM3 !== null,
);
const part = fc.record({
  material: fc.constantFrom(...wellKnown),
  massG: fc.integer({ min: 1, max: 10_000_000 }),
  estimatedG: fc.constant(0),
});

describe('a mix', () => {
  it('of one material has the figures of that material', () => {
    const mix = mixOf([{ material: food, massG: 100_000, estimatedG: 0 }]);
    expect(mix.value.carbonToNitrogen).toBeCloseTo(15, 10);
    expect(mix.value.moisturePercent).toBeCloseTo(70, 10);
    expect(mix.value.bulkDensityKgM3).toBeCloseTo(455, 10);
    expect(mix.volumeMl).toBe(219_780);
    expect(mix.missing).toEqual([]);
  });

  it('lies between its materials, whatever the order', () => {
    fc.assert(
      fc.property(fc.array(part, { minLength: 1, maxLength: 8 }), (parts) => {
        const mix = mixOf(parts);
        for (const figure of ['carbonToNitrogen', 'moisturePercent', 'bulkDensityKgM3'] as const) {
          const values = parts.map((one) => one.material[figure]!.typical);
          expect(mix.value[figure]).toBeGreaterThanOrEqual(Math.min(...values) * (1 - 1e-9));
          expect(mix.value[figure]).toBeLessThanOrEqual(Math.max(...values) * (1 + 1e-9));
          expect(mix.knownMassShare[figure]).toBe(1);
          expect(mixOf(parts.toReversed()).value[figure]).toBeCloseTo(mix.value[figure]!, 6);
        }
      }),
    );
  });

  it('grows wetter with water while its C:N stays', () => {
    const dry = mixOf([{ material: leaves, massG: 1_000_000, estimatedG: 0 }]);
    const wet = mixOf([
      { material: leaves, massG: 1_000_000, estimatedG: 0 },
      { material: water, massG: 500_000, estimatedG: 0 },
    ]);
    expect(wet.value.carbonToNitrogen).toBeCloseTo(dry.value.carbonToNitrogen!, 10);
    expect(wet.value.moisturePercent).toBeCloseTo((38 * 1 + 100 * 0.5) / 1.5, 10);
    expect(wet.missing).toEqual([]);
  });

  it('takes mineral ash as dry mass without carbon or nitrogen', () => {
    const ash: MaterialFigures = {
      ...material('wood-ash'),
      moisturePercent: point(0),
      bulkDensityKgM3: point(600),
    };
    const mix = mixOf([
      { material: food, massG: 90_000, estimatedG: 0 },
      { material: ash, massG: 10_000, estimatedG: 0 },
    ]);
    expect(mix.value.carbonToNitrogen).toBeCloseTo(15, 10);
    expect(mix.value.moisturePercent).toBeCloseTo(63, 10);
  });
});

describe('unknown figures', () => {
  it('are named, and the rest is computed from what is known', () => {
    const mix = mixOf([
      { material: food, massG: 75_000, estimatedG: 0 },
      { material: material('overs'), massG: 15_000, estimatedG: 0 },
      { material: material('overs'), massG: 10_000, estimatedG: 0 },
    ]);
    expect(mix.value.carbonToNitrogen).toBeCloseTo(15, 10);
    expect(mix.knownMassShare).toMatchObject({
      carbonToNitrogen: 0.75,
      moisturePercent: 0.75,
      bulkDensityKgM3: 0.75,
    });
    expect(mix.value.bulkDensityKgM3).toBeCloseTo(455, 10);
    expect(mix.volumeMl).toBeNull();
    expect(mix.missing.map((one) => `${one.materialCode} ${one.figure}`)).toEqual([
      'overs nitrogenPercentDry',
      'overs carbonToNitrogen',
      'overs moisturePercent',
      'overs bulkDensityKgM3',
    ]);
  });

  it('keep nitrogen out of C:N when the moisture is unknown', () => {
    const mix = mixOf([
      { material: leaves, massG: 50_000, estimatedG: 0 },
      { material: material('coffee-grounds'), massG: 50_000, estimatedG: 0 },
    ]);
    expect(mix.value.carbonToNitrogen).toBeCloseTo(60, 10);
    expect(mix.knownMassShare.carbonToNitrogen).toBe(0.5);
    expect(mix.missing).toContainEqual({ materialCode: 'coffee-grounds', figure: 'moisturePercent' });
  });

  it('give no figure when nothing is known', () => {
    const nothing = { carbonToNitrogen: null, moisturePercent: null, bulkDensityKgM3: null };
    expect(mixOf([{ material: material('overs'), massG: 5_000, estimatedG: 0 }])).toMatchObject({
      value: nothing,
      volumeMl: null,
    });
    expect(mixOf([])).toMatchObject({ value: nothing, massG: 0, volumeMl: 0, missing: [] });
    expect(mixOf([{ material: water, massG: 5_000, estimatedG: 0 }]).value.carbonToNitrogen).toBeNull();
  });
});

describe('impossible input', () => {
  it.each([
    { nitrogenPercentDry: point(-1) },
    { nitrogenPercentDry: point(Number.NaN) },
    { nitrogenPercentDry: point(5), carbonToNitrogen: point(30) },
    { carbonToNitrogen: point(0) },
    { moisturePercent: point(100.1) },
    { bulkDensityKgM3: point(0) },
  ])('refuses figures %j', (figures) => {
    expect(() => mixOf([{ material: { ...food, ...figures }, massG: 1, estimatedG: 0 }])).toThrow(RangeError);
  });

  it('refuses masses and samples that cannot be', () => {
    for (const massG of [-1, Number.NaN, Number.POSITIVE_INFINITY]) {
      expect(() => mixOf([{ material: food, massG, estimatedG: 0 }])).toThrow(RangeError);
    }
    for (const [wet, dry] of [
      [0, 0],
      [10, 11],
      [10, -1],
      [Number.NaN, 1],
    ] as const) {
      expect(() => moisturePercentFromDrying(wet, dry)).toThrow(RangeError);
    }
  });
});
