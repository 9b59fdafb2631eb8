/**
 * Volumes of piles as others print them.
 *
 * - H. L. Brodie, "Determining the amount of manure in a pile or a pool", Biological Resources Engineering Facts 176,
 *   University of Maryland, March 1990: a box holds width × height × length, anything uniform its end area × length.
 * - Alberta Agriculture, "Nutrient Management Planning Guide", Agdex 400/28-3, p. 124: a pile of 22 m around the base is
 *   7.0 m across.
 * - Math Central, University of Regina, QQ.09.11 "Perry": a conical pile 42 ft across and 16 ft high holds 7,389 ft³, which
 *   is 274 yd³.
 * - Construction Work, "Stockpile volume": table of conical stockpiles at 37° of repose, V = 0.2618 D² h.
 * - New Jersey DEP, leaf composting manual, Appendix A: a triangle underestimates a windrow, a rectangle overestimates it;
 *   the semicircle it takes holds ½ π h² a length.
 *
 * That a rounded windrow is a parabola, two thirds of the box around it, is from memory of the handbooks; Archimedes' theorem
 * is checked here by adding up slices.
 */
import { describe, expect, it } from 'vitest';
import { type Length, mlToUnit, pileSizeOf } from '#libs/quantities';

const ft = (value: number): Length => ({ value, unit: 'ft' });
const m = (value: number): Length => ({ value, unit: 'm' });

describe('piles against print', () => {
  it('has the cone of Math Central', () => {
    const { volumeMl } = pileSizeOf({ shape: 'cone', width: ft(42), height: ft(16) });
    expect(Math.round(mlToUnit(volumeMl, 'ft3'))).toBe(7389);
    expect(Math.round(mlToUnit(volumeMl, 'yd3'))).toBe(274);
  });

  // Printed to 5 yd³ and less finely further down.
  it.each([
    [26.5, 10, 68],
    [39.83, 15, 230],
    [53, 20, 545],
    [66.3, 25, 1065],
    [79.5, 30, 1845],
    [92.83, 35, 2930],
    [106, 40, 4370],
    [132.66, 50, 8540],
    [265.3, 100, 68_300],
  ])('has the stockpile %d ft across and %d ft high: %d yd³', (diameter, height, printed) => {
    const { volumeMl } = pileSizeOf({ shape: 'cone', width: ft(diameter), height: ft(height) });
    expect(Math.abs(mlToUnit(volumeMl, 'yd3') / printed - 1)).toBeLessThan(0.005);
  });

  it('finds how wide a pile is that somebody walked around', () => {
    const { widthMm } = pileSizeOf({ shape: 'cone', circumference: m(22), height: m(2) });
    expect(Math.round(widthMm / 100)).toBe(70);
  });

  it('has the box, and the end area times the length', () => {
    const sizes = { length: ft(10), width: ft(5), height: ft(3) };
    const bin = pileSizeOf({ shape: 'bin', ...sizes });
    expect(mlToUnit(bin.volumeMl, 'ft3')).toBeCloseTo(150, 4);
    const triangle = pileSizeOf({ shape: 'triangular-windrow', ...sizes });
    expect(mlToUnit(triangle.volumeMl, 'ft3')).toBeCloseTo(75, 4);
    const flat = pileSizeOf({ shape: 'flat-topped-windrow', ...sizes, topWidth: ft(1) });
    expect(mlToUnit(flat.volumeMl, 'ft3')).toBeCloseTo(90, 4);
  });

  it('has a rounded windrow between triangle and rectangle, near the semicircle', () => {
    const sizes = { length: m(1), width: m(4), height: m(2) };
    const semicircle = (Math.PI / 2) * 2 ** 2 * 1e6;
    const rounded = pileSizeOf({ shape: 'rounded-windrow', ...sizes }).volumeMl;
    expect(pileSizeOf({ shape: 'triangular-windrow', ...sizes }).volumeMl).toBeLessThan(semicircle);
    expect(pileSizeOf({ shape: 'bin', ...sizes }).volumeMl).toBeGreaterThan(semicircle);
    expect(Math.abs(rounded / semicircle - 1)).toBeLessThan(0.16);
    const slices = 100_000;
    let area = 0;
    for (let slice = 0; slice < slices; slice += 1) {
      const x = ((slice + 0.5) / slices) * 2 - 1; // of the half width
      area += 2 * (1 - x ** 2) * (4 / slices);
    }
    expect(rounded / 1e6).toBeCloseTo(area, 6);
  });
});
