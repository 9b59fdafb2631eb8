/**
 * Source: 14 CCR 18993.1(g) (California), as restated with its citation in a city's procurement plan: one ton of organic waste stands
 * for "0.58 tons of compost or 1.45 cubic yards of compost". It is a factor of accounts: what a batch yields is measured.
 */
import { describe, expect, it } from 'vitest';
import { estimateMassG, gToUnit, massToG, mlToUnit, volumeToMl } from '#libs/quantities';

describe('one ton of organic waste, as California counts compost that is bought', () => {
  const massG = massToG({ value: 0.58, unit: 'short-ton' });
  const volumeMl = volumeToMl({ value: 1.45, unit: 'yd3' });

  it('is 0.58 short tons and 1.45 cubic yards of the same compost: 800 lb a cubic yard', () => {
    expect(gToUnit(massG, 'lb') / mlToUnit(volumeMl, 'yd3')).toBeCloseTo(800, 2);
  });

  it('is 475 kg/m³, by which the volume gives the mass again', () => {
    const densityKgM3 = massG / 1000 / (volumeMl / 1e6);
    expect(densityKgM3).toBeCloseTo(474.6, 1);
    expect(estimateMassG(volumeMl, densityKgM3)).toBe(massG);
  });
});
