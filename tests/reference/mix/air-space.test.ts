/**
 * Sources:
 * - Cornell Composting, "Inadequate Porosity" (compost.css.cornell.edu/odors/inadeq.porosity.html): "any increase in bulk
 *   density is at the expense of the air filled porosity (the solid and aqueous phases can be considered incompressible)".
 * - Free air space as the "ratio of gas (air) volume to total volume": Coker, BioCycle, December 2011.
 * - The formula of Richard et al. and its constants (1000, 1600, 2500 kg/m³) are from memory; no worked example was found
 *   to hold it against, so it is held against its own printed form and against what must be true of any heap.
 */
import { describe, expect, it } from 'vitest';
import { mixOf } from '#libs/materials';
import { material, water } from '../../support/material.js';

function airPercent(densityKgM3: number, moisturePercent: number, ashPercentDry: number, waterG = 0): number {
  const heap = material('heap', { moisturePercent, ashPercentDry, bulkDensityKgM3: densityKgM3 });
  return mixOf([
    { material: heap, massG: 600_000, estimatedG: 0, estimatedMl: 0 },
    { material: water, massG: waterG, estimatedG: 0, estimatedMl: 0 },
  ]).value.freeAirSpacePercent!;
}

const heaps = [
  [300, 30, 5],
  [475, 55, 12],
  [600, 60, 25],
  [712, 65, 40],
] as const;

describe('free air space', () => {
  it.each(heaps)(
    'of %i kg/m³ at %i %% moisture and %i %% ash is that of the formula',
    (bd, moisture, ash) => {
      const dm = 1 - moisture / 100;
      const om = 1 - ash / 100;
      const fas = 1 - bd * ((1 - dm) / 1000 + (dm * om) / 1600 + (dm * (1 - om)) / 2500);
      expect(airPercent(bd, moisture, ash)).toBeCloseTo(100 * fas, 10);
    },
  );

  it.each(heaps)(
    'of %i kg/m³ loses, when the heap settles, just the litres it settles by',
    (bd, moisture, ash) => {
      const litres = 600_000 / bd;
      const settled = litres * 0.95;
      const before = (airPercent(bd, moisture, ash) / 100) * litres;
      const after = (airPercent(600_000 / settled, moisture, ash) / 100) * settled;
      expect(before - after).toBeCloseTo(litres * 0.05, 8);
    },
  );

  it.each(heaps)('of %i kg/m³ is what water it takes to fill it', (bd, moisture, ash) => {
    const litres = 600_000 / bd;
    const airL = (airPercent(bd, moisture, ash) / 100) * litres;
    expect(airPercent(bd, moisture, ash, airL * 500)).toBeCloseTo(airPercent(bd, moisture, ash) / 2, 8);
    expect(airPercent(bd, moisture, ash, airL * 1000)).toBeCloseTo(0, 8);
  });
});
