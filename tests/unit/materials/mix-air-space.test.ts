import { describe, expect, it } from 'vitest';
import { type Mix, mixOf } from '#libs/materials';
import { material, water } from '../../support/material.js';

const airOf = (given: Parameters<typeof material>[1], waterG = 0): Mix =>
  mixOf([
    { material: material('one', given), massG: 500_000, estimatedG: 0, estimatedMl: 0 },
    { material: water, massG: waterG, estimatedG: 0, estimatedMl: 0 },
  ]);
const half = { moisturePercent: 50, bulkDensityKgM3: 500 };

describe('free air space', () => {
  it('is what water, organic matter and ash leave of the volume', () => {
    // A cubic metre: 250 L of water, 200 kg of organic matter in 125 L, 50 kg of ash in 20 L.
    expect(airOf({ ...half, ashPercentDry: 20 }).value.freeAirSpacePercent).toBeCloseTo(60.5, 10);
    expect(airOf({ ...half, ashPercentDry: 20 }, 105_000).value.freeAirSpacePercent).toBeCloseTo(50, 10);
  });

  it('takes organic matter from carbon where ash is unknown, and never more than all of it', () => {
    const fromCarbon = airOf({ ...half, carbonPercentDry: 80 / 1.8 });
    expect(fromCarbon.value.freeAirSpacePercent).toBeCloseTo(60.5, 10);
    const balance = airOf({ ...half, nitrogenPercentDry: 2, carbonToNitrogen: 40 / 1.8 });
    expect(balance.value.freeAirSpacePercent).toBeCloseTo(60.5, 10);
    const rich = airOf({ ...half, carbonPercentDry: 62 });
    expect(rich.value.freeAirSpacePercent).toBeCloseTo(100 - 25 - 15.625, 10);
  });

  it('of estimated organic matter has the range of carbon in it, 45 to 60 %', () => {
    const { range } = airOf({
      moisturePercent: [50, 50, 50],
      bulkDensityKgM3: [500, 500, 500],
      carbonPercentDry: [42, 42, 42],
    });
    const air = (organic: number): number => 75 - 25 * (organic / 1.6 + (1 - organic) / 2.5);
    expect(range.freeAirSpacePercent!.min).toBeCloseTo(air(42 / 45), 10);
    expect(range.freeAirSpacePercent!.max).toBeCloseTo(air(0.7), 10);
  });

  it('is none where water and solids would need more room than there is', () => {
    const flooded = airOf({ ...half, ashPercentDry: 20 }, 700_000);
    expect(flooded.value.freeAirSpacePercent).toBe(0);
    expect(flooded.range.freeAirSpacePercent).toEqual({ min: 0, max: 0 });
  });

  it('is unknown without any of moisture, density and organic matter', () => {
    expect(airOf({ bulkDensityKgM3: 500, ashPercentDry: 20 }).value.freeAirSpacePercent).toBeNull();
    expect(airOf({ moisturePercent: 50, ashPercentDry: 20 }).value.freeAirSpacePercent).toBeNull();
    expect(airOf(half).value.freeAirSpacePercent).toBeNull();
    expect(airOf(half).knownMassShare.freeAirSpacePercent).toBe(0);
    expect(airOf({ ...half, kind: 'mineral' }).missing).toEqual([
      { materialCode: 'one', figure: 'ashPercentDry' },
    ]);
  });
});
