import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  areaToMm2,
  areaUnits,
  estimateMassG,
  formatMass,
  gToUnit,
  kgOf,
  lengthToMm,
  lengthUnits,
  litresOf,
  massToG,
  massUnits,
  mlToUnit,
  mm2ToUnit,
  mmToUnit,
  sumG,
  volumeToMl,
  volumeUnits,
} from '#libs/quantities';

/** Far above any programme (a million tonnes), and small enough that a double still tells neighbouring grams apart. */
const stored = fc.integer({ min: 0, max: 1_000_000_000_000 });

describe('masses, volumes, lengths and areas', () => {
  it('come back as stored after being shown in any unit', () => {
    fc.assert(
      fc.property(stored, (amount) => {
        for (const unit of massUnits) expect(massToG({ value: gToUnit(amount, unit), unit })).toBe(amount);
        for (const unit of volumeUnits)
          expect(volumeToMl({ value: mlToUnit(amount, unit), unit })).toBe(amount);
        for (const unit of lengthUnits)
          expect(lengthToMm({ value: mmToUnit(amount, unit), unit })).toBe(amount);
        for (const unit of areaUnits)
          expect(areaToMm2({ value: mm2ToUnit(amount, unit), unit })).toBe(amount);
      }),
    );
  });

  it('never shrink when the entered value grows', () => {
    const value = fc.double({ min: 0, max: 1e6, noNaN: true });
    fc.assert(
      fc.property(value, value, fc.constantFrom(...massUnits), (a, b, unit) => {
        const [low, high] = a < b ? [a, b] : [b, a];
        expect(massToG({ value: low, unit })).toBeLessThanOrEqual(massToG({ value: high, unit }));
      }),
    );
  });

  it('take the decimal that was typed, and round a tie to even', () => {
    expect(massToG({ value: 0.0005, unit: 'kg' })).toBe(0);
    expect(massToG({ value: 0.0015, unit: 'kg' })).toBe(2);
    expect(massToG({ value: 0.0025, unit: 'kg' })).toBe(2);
    // In binary floating point 0.5015 × 1000 is 501.49999999999994 and would fall the wrong way.
    expect(massToG({ value: 0.5015, unit: 'kg' })).toBe(502);
  });

  it('refuse what is not a quantity', () => {
    for (const value of [Number.NaN, Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY, -0.001, -1]) {
      expect(() => massToG({ value, unit: 'kg' })).toThrow(RangeError);
      expect(() => volumeToMl({ value, unit: 'L' })).toThrow(RangeError);
      expect(() => lengthToMm({ value, unit: 'cm' })).toThrow(RangeError);
      expect(() => areaToMm2({ value, unit: 'ft2' })).toThrow(RangeError);
      expect(() => estimateMassG(1000, value)).toThrow(RangeError);
    }
    expect(() => massToG({ value: 1e13, unit: 'kg' })).toThrow('too large');
    expect(() => massToG({ value: 1e300, unit: 't' })).toThrow('too large');
  });

  it('refuse stored amounts that are not whole', () => {
    for (const amount of [0.5, Number.NaN, 2 ** 53]) {
      expect(() => gToUnit(amount, 'lb')).toThrow(RangeError);
      expect(() => kgOf(amount)).toThrow(RangeError);
      expect(() => formatMass(amount, 't', 2)).toThrow(RangeError);
    }
    for (const amount of [0.5, -1, Number.NaN, 2 ** 53]) {
      expect(() => sumG([1, amount])).toThrow(RangeError);
      expect(() => mlToUnit(amount, 'gal')).toThrow(RangeError);
      expect(() => mm2ToUnit(amount, 'acre')).toThrow(RangeError);
      expect(() => litresOf(amount)).toThrow(RangeError);
      expect(() => estimateMassG(amount, 300)).toThrow(RangeError);
    }
  });

  it('sum exactly, and never past what can be exact', () => {
    expect(sumG([])).toBe(0);
    expect(sumG([1, 2, 3])).toBe(6);
    expect(() => sumG([Number.MAX_SAFE_INTEGER, 1])).toThrow(RangeError);
  });

  it('read minus zero as zero', () => {
    expect(Object.is(massToG({ value: -0, unit: 'lb' }), 0)).toBe(true);
  });
});

describe('display', () => {
  it('shows kilograms and litres', () => {
    expect(kgOf(12_428)).toBe(12.428);
    expect(litresOf(18_927)).toBe(18.927);
  });

  it('prints fixed decimals from the exact mass, a tie going to even', () => {
    expect(formatMass(1_005, 'kg', 2)).toBe('1.00');
    expect(formatMass(1_015, 'kg', 2)).toBe('1.02');
    expect(formatMass(0, 'lb', 1)).toBe('0.0');
  });

  it('shows a difference below zero, but no minus zero', () => {
    expect(kgOf(-1_500)).toBe(-1.5);
    expect(gToUnit(-1_000_000, 't')).toBe(-1);
    expect(formatMass(-1_500, 'kg', 1)).toBe('-1.5');
    expect(formatMass(-3, 'short-ton', 2)).toBe('0.00');
  });
});
