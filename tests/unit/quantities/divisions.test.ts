import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { isWholeDivisions, massUnits } from '#libs/quantities';

describe('isWholeDivisions', () => {
  it('compares what was typed, not its binary neighbour', () => {
    // 0.3 % 0.1 is 0.09999999999999998 in binary.
    expect(isWholeDivisions({ value: 0.3, unit: 'lb' }, { value: 0.1, unit: 'lb' })).toBe(true);
    expect(isWholeDivisions({ value: 481.8, unit: 'lb' }, { value: 0.2, unit: 'lb' })).toBe(true);
    expect(isWholeDivisions({ value: 481.9, unit: 'lb' }, { value: 0.2, unit: 'lb' })).toBe(false);
    expect(isWholeDivisions({ value: 0, unit: 'kg' }, { value: 0.2, unit: 'lb' })).toBe(true);
  });

  it('compares across units, exactly', () => {
    // 1 lb = 16 oz = 453.59237 g; 1 short ton = 2 000 lb: NIST Handbook 44, Appendix C.
    expect(isWholeDivisions({ value: 1.6, unit: 'oz' }, { value: 0.1, unit: 'lb' })).toBe(true);
    expect(isWholeDivisions({ value: 453.59237, unit: 'g' }, { value: 0.1, unit: 'lb' })).toBe(true);
    expect(isWholeDivisions({ value: 453.592, unit: 'g' }, { value: 0.1, unit: 'lb' })).toBe(false);
    expect(isWholeDivisions({ value: 0.5, unit: 'short-ton' }, { value: 20, unit: 'lb' })).toBe(true);
  });

  it('finds every whole multiple of a decimal division, and no half of one', () => {
    const division = fc.record({
      digits: fc.constantFrom(1, 2, 5),
      exponent: fc.integer({ min: -3, max: 2 }),
      unit: fc.constantFrom(...massUnits),
    });
    fc.assert(
      fc.property(division, fc.integer({ min: 1, max: 10_000 }), ({ digits, exponent, unit }, count) => {
        const step = { value: Number(`${digits}e${exponent}`), unit };
        const times = (halves: number) => ({ value: Number(`${digits * halves * 5}e${exponent - 1}`), unit });
        expect(isWholeDivisions(times(2 * count), step)).toBe(true);
        expect(isWholeDivisions(times(2 * count + 1), step)).toBe(false);
      }),
    );
  });
});
