import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type Length, type Pile, pileMassG, pileSizeOf } from '#libs/quantities';

const m = (value: number): Length => ({ value, unit: 'm' });
const cm = (value: number): Length => ({ value, unit: 'cm' });
const around = { length: m(10), width: m(4), height: m(1.5) };
const volumeOf = (pile: Pile) => pileSizeOf(pile).volumeMl;

describe('the size of a pile', () => {
  it('is kept in millimetres, with what the shape has none of left out', () => {
    expect(pileSizeOf({ shape: 'flat-topped-windrow', ...around, topWidth: m(1) })).toEqual({
      ...{ lengthMm: 10_000, widthMm: 4000, topWidthMm: 1000, heightMm: 1500 },
      volumeMl: 37_500_000,
    });
    expect(pileSizeOf({ shape: 'cone', circumference: { value: 30, unit: 'ft' }, height: m(3) })).toEqual({
      ...{ lengthMm: null, widthMm: 2911, topWidthMm: null, heightMm: 3000 },
      volumeMl: 6_653_690, // 9.144² × 3 / (12 π) m³
    });
  });

  it('is worked out of what was typed, not of whole millimetres', () => {
    const tall: Pile = { shape: 'bin', length: cm(100), width: cm(100), height: cm(10.04) };
    expect(pileSizeOf(tall)).toMatchObject({ heightMm: 100, volumeMl: 100_400 });
  });

  it.each([
    ['triangular-windrow', cm(0.5), cm(10), cm(1), 2], // 2.5 mL
    ['triangular-windrow', cm(0.7), cm(10), cm(1), 4], // 3.5 mL
    ['rounded-windrow', cm(0.5), cm(3), cm(2.5), 2], // 2.5 mL, of which two thirds must not take a digit
    ['rounded-windrow', cm(0.7), cm(3), cm(2.5), 4],
  ] as const)('rounds half to even, once: %s', (shape, length, width, height, volumeMl) => {
    expect(volumeOf({ shape, length, width, height })).toBe(volumeMl);
  });

  it('lies between the triangle and the box, and is either of them where the top is none or all of the width', () => {
    const length = fc.double({ min: 0.1, max: 60, noNaN: true });
    fc.assert(
      fc.property(length, length, length, fc.double({ min: 0, max: 1, noNaN: true }), (l, w, h, share) => {
        const sizes = { length: m(l), width: m(w), height: m(h) };
        const flat = (topWidth: Length) => volumeOf({ shape: 'flat-topped-windrow', ...sizes, topWidth });
        const bin = volumeOf({ shape: 'bin', ...sizes });
        const triangle = volumeOf({ shape: 'triangular-windrow', ...sizes });
        const rounded = volumeOf({ shape: 'rounded-windrow', ...sizes });
        expect([flat(m(0)), flat(m(w))]).toEqual([triangle, bin]);
        expect(triangle).toBeLessThanOrEqual(rounded);
        expect(rounded).toBeLessThanOrEqual(bin);
        expect(flat(m(w * share))).toBeGreaterThanOrEqual(triangle);
        expect(flat(m(w * share))).toBeLessThanOrEqual(bin);
      }),
    );
  });

  it('is refused where a side comes to nothing, the top is wider than the base, or nobody could keep it', () => {
    expect(() => pileSizeOf({ shape: 'bin', ...around, height: m(0) })).toThrow(/height must be more/);
    expect(() => pileSizeOf({ shape: 'bin', ...around, length: cm(0.04) })).toThrow(/length must be more/);
    expect(() => pileSizeOf({ shape: 'cone', circumference: m(0), height: m(1) })).toThrow(
      /width must be more/,
    );
    expect(() => pileSizeOf({ shape: 'cone', width: cm(1), height: cm(1) })).toThrow(/volume must be more/);
    const top = { shape: 'flat-topped-windrow', topWidth: m(4.001) } as const;
    expect(() => pileSizeOf({ ...around, ...top })).toThrow(/wider than the base/);
    expect(() => pileSizeOf({ shape: 'bin', length: m(1e5), width: m(1e5), height: m(1e5) })).toThrow(
      /too large/,
    );
    expect(() => pileSizeOf({ shape: 'bin', ...around, width: m(-1) })).toThrow(RangeError);
  });
});

describe('the mass of a pile', () => {
  it('is that of a bucket of it, as many times as the pile holds it', () => {
    expect(pileMassG(37_500_000, { contentG: 11_400, volumeMl: 18_927 })).toBe(22_586_781);
    expect(pileMassG(5, { contentG: 1, volumeMl: 2 })).toBe(2);
    expect(pileMassG(7, { contentG: 1, volumeMl: 2 })).toBe(4);
  });

  it('is unknown of a bucket that held nothing', () => {
    expect(() => pileMassG(5, { contentG: 0, volumeMl: 2 })).toThrow(RangeError);
    expect(() => pileMassG(5, { contentG: 1, volumeMl: 0 })).toThrow(RangeError);
    expect(() => pileMassG(5, { contentG: 1.5, volumeMl: 2 })).toThrow(RangeError);
  });
});
