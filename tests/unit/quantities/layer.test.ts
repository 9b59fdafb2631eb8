import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { areaToMm2, layerOf, lengthToMm, umToUnit, volumeToMl } from '#libs/quantities';

const areaM2 = fc.integer({ min: 1, max: 1_000_000 }).map((cm) => cm / 100);
const depthCm = fc.integer({ min: 1, max: 1_000 }).map((mm) => mm / 10);

describe('a layer', () => {
  it('is area times depth, and comes back from its volume with either', () => {
    fc.assert(
      fc.property(areaM2, depthCm, (inM2, inCm) => {
        const area = { value: inM2, unit: 'm2' } as const;
        const depth = { value: inCm, unit: 'cm' } as const;
        const layer = layerOf({ area, depth });
        // Whole mm² times whole mm is whole µL, here summed as integers, so that no rounding of ours is tested by itself.
        const microlitres = BigInt(areaToMm2(area)) * BigInt(lengthToMm(depth));
        expect(layer.volumeMl).toBe(Number(microlitres / 1000n));
        expect(microlitres % 1000n).toBe(0n);
        const volume = { value: layer.volumeMl / 1000, unit: 'L' } as const;
        expect(layerOf({ area, volume })).toEqual(layer);
        expect(layerOf({ depth, volume })).toEqual(layer);
      }),
    );
  });

  it('keeps a quarter of an inch, which whole millimetres would not', () => {
    const depth = { value: 0.25, unit: 'in' } as const;
    const layer = layerOf({ area: { value: 1_000_000, unit: 'm2' }, depth });
    expect(layer.depthUm).toBe(6_350);
    expect(layer.volumeMl).toBe(6_350_000_000);
    expect(umToUnit(layer.depthUm, 'in')).toBe(0.25);
    expect(umToUnit(layer.depthUm, 'cm')).toBe(0.635);
  });

  it('takes the volume as typed, not as rounded', () => {
    const volume = { value: 1, unit: 'gal' } as const;
    const layer = layerOf({ area: { value: 0.01, unit: 'm2' }, volume });
    expect(layer.volumeMl).toBe(volumeToMl(volume));
    expect(layer.depthUm).toBe(378_541); // of 3 785.411 784 mL, where 3 785 mL would give 378 500
  });

  it('is none of nothing, nor of what is no quantity', () => {
    const area = { value: 10, unit: 'm2' } as const;
    const depth = { value: 1, unit: 'in' } as const;
    expect(() => layerOf({ area: { ...area, value: 0 }, depth })).toThrow('area must be more than nothing');
    expect(() => layerOf({ area, depth: { ...depth, value: 0 } })).toThrow('depth must be more');
    expect(() => layerOf({ area, volume: { value: 0, unit: 'L' } })).toThrow('volume must be more');
    expect(() => layerOf({ area, depth: { ...depth, value: -1 } })).toThrow(RangeError);
    expect(() => layerOf({ area: { value: 1e9, unit: 'ha' }, depth })).toThrow('too large');
    expect(() => umToUnit(0.5, 'in')).toThrow(RangeError);
  });
});
