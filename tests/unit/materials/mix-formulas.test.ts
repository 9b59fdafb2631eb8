import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  bulkDensityKgM3FromBucket,
  carbonPercentFromAsh,
  type MaterialFigures,
  mixOf,
  moisturePercentFromDrying,
} from '#libs/materials';
import { gToUnit, massToG, mlToUnit, volumeToMl } from '#libs/quantities';
import {
  secondForCarbonToNitrogenG,
  secondForMoistureG,
  type WetAndDry,
} from '../../reference/mix/two-materials.js';
import { material } from '../../support/material.js';

const value = (...parts: [MaterialFigures, number][]) =>
  mixOf(parts.map(([one, massG]) => ({ material: one, massG, estimatedG: 0, estimatedMl: 0 }))).value;

describe('a second material for a moisture', () => {
  const percent = fc.double({ min: 0, max: 99, noNaN: true });

  it('brings the mix to the goal, wherever the goal lies between the two', () => {
    const between = fc.tuple(percent, percent, fc.double({ min: 0.01, max: 0.99, noNaN: true }));
    fc.assert(
      fc.property(between, fc.integer({ min: 1, max: 1e7 }), ([one, other, share], massG) => {
        fc.pre(Math.abs(one - other) > 0.01);
        const goal = one + (other - one) * share;
        const secondG = secondForMoistureG(massG, one, other, goal);
        const mix = value(
          [material('one', { moisturePercent: one }), massG],
          [material('other', { moisturePercent: other }), secondG],
        );
        expect(mix.moisturePercent).toBeCloseTo(goal, 6);
      }),
    );
  });
});

describe('a second material for a C:N', () => {
  const wetAndDry: fc.Arbitrary<WetAndDry> = fc.record({
    moisturePercent: fc.double({ min: 0, max: 90, noNaN: true }),
    carbonPercentDry: fc.double({ min: 20, max: 55, noNaN: true }),
    nitrogenPercentDry: fc.double({ min: 0, max: 5, noNaN: true }),
  });

  it('brings the mix to the goal, also without nitrogen of its own', () => {
    const goal = fc.integer({ min: 15, max: 60 });
    fc.assert(
      fc.property(wetAndDry, wetAndDry, fc.boolean(), goal, (rich, poor, bare, ratio) => {
        const second = bare ? { ...poor, nitrogenPercentDry: 0 } : poor;
        fc.pre(rich.carbonPercentDry < 0.9 * ratio * rich.nitrogenPercentDry);
        fc.pre(second.carbonPercentDry > 1.1 * ratio * second.nitrogenPercentDry);
        const secondG = secondForCarbonToNitrogenG(1000, rich, second, ratio);
        const mix = value(
          [material('rich', { ...rich }), 1000],
          [material('second', { ...second }), secondG],
        );
        expect(mix.carbonToNitrogen).toBeCloseTo(ratio, 6);
      }),
    );
  });
});

describe('what a yard measures', () => {
  it('refuses samples and buckets that cannot be', () => {
    for (const [wet, dry] of [
      [0, 0],
      [10, 11],
      [10, -1],
      [Number.NaN, 1],
    ] as const) {
      expect(() => moisturePercentFromDrying(wet, dry)).toThrow(RangeError);
    }
    for (const [full, empty, volume] of [
      [1000, 1000, 20_000],
      [1000, -1, 20_000],
      [1000, 100, 0],
      [Number.POSITIVE_INFINITY, 100, 20_000],
    ] as const) {
      expect(() => bulkDensityKgM3FromBucket(full, empty, volume)).toThrow(RangeError);
    }
    for (const ash of [-1, 101, Number.NaN]) expect(() => carbonPercentFromAsh(ash)).toThrow(RangeError);
  });

  it('comes to the same in pounds and gallons, to a gram and a millilitre', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1000, max: 50_000 }),
        fc.integer({ min: 5_000, max: 100_000 }),
        (g, ml) => {
          const backG = massToG({ value: gToUnit(g, 'lb'), unit: 'lb' });
          const backMl = volumeToMl({ value: mlToUnit(ml, 'gal'), unit: 'gal' });
          expect(bulkDensityKgM3FromBucket(backG, 0, backMl)).toBe(bulkDensityKgM3FromBucket(g, 0, ml));
        },
      ),
    );
  });
});
