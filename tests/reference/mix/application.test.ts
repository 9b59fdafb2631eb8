/**
 * Compost for an area and a depth, against published arithmetic. Sources:
 * - Cornell Composting, market and label guidelines (compost.css.cornell.edu/market-label/guidelines/formula.htm):
 *   "Volume Required (cubic yards) = area (sq. ft.) x depth (inches) x 0.0031"; 350 ft × 200 ft, 2 in: "434 cubic yards".
 * - Deschutes Recycling, Composting (deschutesrecycling.com/composting): "Divide 324 by the depth of application in inches";
 *   "2000 sf x 1/4 in x 0.0031 = 1.6 cubic yards"; "324/.333 = 972 sf"; finished compost 1,000–1,200 lb/yd³.
 * - City of Greeley, soil amendment (greeleygov.com/Water/Documents/calc2.htm): 4 yd³ on 1,000 ft², tilled in 6–8 in.
 * The exact factor, 1/324 yd³ per ft²·in, follows from the definitions (12 in a foot, 27 ft³ a cubic yard).
 */
import { describe, expect, it } from 'vitest';
import { applicationOf, containersFor, useCautions } from '#libs/materials';
import { gToUnit, layerOf, mlToUnit, mm2ToUnit, umToUnit } from '#libs/quantities';

const ft2 = (value: number) => ({ value, unit: 'ft2' as const });
const inches = (value: number) => ({ value, unit: 'in' as const });
const yd3 = (value: number) => ({ value, unit: 'yd3' as const });
const codesOf = (depthIn: number) =>
  applicationOf({ area: ft2(100), depth: inches(depthIn) }).cautions.map(({ code }) => code);

describe('volume for an area and a depth', () => {
  it('Cornell: 350 ft × 200 ft, 2 in deep are 432.1 yd³; the printed 434 comes of the rounded factor', () => {
    const { volumeMl } = layerOf({ area: ft2(350 * 200), depth: inches(2) });
    expect(mlToUnit(volumeMl, 'yd3')).toBeCloseTo(140_000 / 324, 6);
    expect(mlToUnit(volumeMl, 'yd3').toFixed(1)).toBe('432.1');
    const printed = 70_000 * 2 * 0.0031;
    expect(printed.toFixed(0)).toBe('434');
    expect(mlToUnit(volumeMl, 'yd3')).not.toBeCloseTo(printed, 0);
    expect(((0.0031 * 324 - 1) * 100).toFixed(2)).toBe('0.44');
  });

  it('Deschutes: 2,000 ft², a quarter inch deep, take 1.5 yd³; the printed 1.6 is 1.55 by the rounded factor', () => {
    const { volumeMl } = layerOf({ area: ft2(2_000), depth: inches(0.25) });
    expect(mlToUnit(volumeMl, 'yd3')).toBeCloseTo(500 / 324, 5);
    expect((2_000 * 0.25 * 0.0031).toFixed(2)).toBe('1.55');
  });

  it('an inch over 1,000 ft² is 3.086 yd³', () => {
    const { volumeMl } = layerOf({ area: ft2(1_000), depth: inches(1) });
    expect(mlToUnit(volumeMl, 'yd3').toFixed(3)).toBe('3.086');
  });

  it('an inch over one square foot is exactly a 324th of a cubic yard', () => {
    const { volumeMl } = layerOf({ area: ft2(324_000_000), depth: inches(1) });
    expect(volumeMl).toBe(764_554_857_984);
  });
});

describe('area for a volume and a depth', () => {
  it.each([1, 2, 0.25, 0.333])('Deschutes: a cubic yard covers 324 ft² divided by %d in', (depthIn) => {
    const { areaMm2 } = layerOf({ depth: inches(depthIn), volume: yd3(1) });
    expect(mm2ToUnit(areaMm2, 'ft2')).toBeCloseTo(324 / depthIn, 4);
  });

  it('Deschutes: at 0.333 in that is the printed 972 ft², cut off', () => {
    const { areaMm2 } = layerOf({ depth: inches(0.333), volume: yd3(1) });
    expect(Math.floor(mm2ToUnit(areaMm2, 'ft2'))).toBe(972);
  });
});

describe('depth for a volume and an area', () => {
  it('Greeley: 4 yd³ on 1,000 ft² are 1.296 in', () => {
    const { depthUm } = layerOf({ area: ft2(1_000), volume: yd3(4) });
    expect(umToUnit(depthUm, 'in').toFixed(3)).toBe('1.296');
    expect(depthUm).toBe(32_918);
  });
});

describe('mass and containers', () => {
  it('Deschutes: a cubic yard of finished compost at 593.28 and 711.93 kg/m³ weighs 1,000 and 1,200 lb', () => {
    for (const [densityKgM3, pounds] of [
      [593.28, 1_000],
      [711.93, 1_200],
    ] as const) {
      const { massG } = applicationOf({ area: ft2(324), volume: yd3(1) }, densityKgM3);
      expect(gToUnit(massG!, 'lb')).toBeCloseTo(pounds, 1);
    }
    expect(applicationOf({ area: ft2(324), volume: yd3(1) }).massG).toBeNull();
  });

  it('counts whole containers', () => {
    expect(containersFor(900_000, 90_000)).toBe(10);
    expect(containersFor(900_001, 90_000)).toBe(11);
    expect(containersFor(1, 90_000)).toBe(1);
    expect(() => containersFor(1, 0)).toThrow(RangeError);
  });
});

describe('cautions', () => {
  it('stand on every answer, each with its source', () => {
    expect(codesOf(0.5)).toEqual([
      'stems-and-trunks',
      'inch-a-year',
      'water-in',
      'gloves-and-dust',
      'where-allowed',
    ]);
    for (const { text, source } of useCautions) {
      expect(text.endsWith('.')).toBe(true);
      expect(source).not.toBe('');
    }
  });

  it('tell of more than an inch, not of an inch', () => {
    expect(codesOf(1)).not.toContain('deep');
    expect(codesOf(1.001)[0]).toBe('deep');
  });
});
