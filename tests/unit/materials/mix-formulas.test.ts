import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  bulkDensityKgM3FromBucket,
  carbonPercentFromAsh,
  type MaterialFigures,
  mixOf,
  moisturePercentFromDrying,
  secondForCarbonToNitrogenG,
  secondForMoistureG,
  waterForMoistureG,
  type WetAndDry,
} from '#libs/materials';
import { gToUnit, massToG, mlToUnit, volumeToMl } from '#libs/quantities';
import { material, water } from '../../support/material.js';

const value = (...parts: [MaterialFigures, number][]) =>
  mixOf(parts.map(([one, massG]) => ({ material: one, massG, estimatedG: 0 }))).value;

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

  it('is water where nothing but water is added', () => {
    const drinkG = waterForMoistureG(800_000, 30, 55);
    expect(
      value([material('dry', { moisturePercent: 30 }), 800_000], [water, drinkG]).moisturePercent,
    ).toBeCloseTo(55, 10);
    expect(waterForMoistureG(800_000, 55, 55)).toBe(0);
  });

  it('is refused where no amount does, and on what cannot be', () => {
    expect(() => secondForMoistureG(10, 77, 60, 60)).toThrow(RangeError);
    expect(() => secondForMoistureG(10, 77, 65, 60)).toThrow(RangeError);
    expect(() => secondForMoistureG(10, 50, 40, 60)).toThrow(RangeError);
    expect(() => waterForMoistureG(10, 60, 55)).toThrow(RangeError);
    expect(() => waterForMoistureG(10, 60, 100)).toThrow(RangeError);
    expect(() => waterForMoistureG(10, -1, 50)).toThrow(RangeError);
    expect(() => waterForMoistureG(Number.NaN, 40, 50)).toThrow(RangeError);
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

  it('is refused where no amount does, and on what cannot be', () => {
    const rich = { moisturePercent: 50, carbonPercentDry: 45, nitrogenPercentDry: 3 };
    const poor = { moisturePercent: 50, carbonPercentDry: 45, nitrogenPercentDry: 1 };
    const wet = { moisturePercent: 100, carbonPercentDry: 0, nitrogenPercentDry: 0 };
    expect(secondForCarbonToNitrogenG(10, rich, poor, 15)).toBe(0);
    expect(() => secondForCarbonToNitrogenG(10, rich, poor, 50)).toThrow(RangeError);
    expect(() => secondForCarbonToNitrogenG(10, rich, poor, 45)).toThrow(RangeError);
    expect(() => secondForCarbonToNitrogenG(10, rich, wet, 30)).toThrow(RangeError);
    for (const ratio of [0, -1, Number.NaN, Number.POSITIVE_INFINITY])
      expect(() => secondForCarbonToNitrogenG(10, rich, poor, ratio)).toThrow(RangeError);
    expect(() => secondForCarbonToNitrogenG(-1, rich, poor, 30)).toThrow(RangeError);
    expect(() => secondForCarbonToNitrogenG(10, { ...rich, moisturePercent: 101 }, poor, 30)).toThrow(
      RangeError,
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
