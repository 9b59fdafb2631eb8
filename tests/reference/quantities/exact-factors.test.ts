/**
 * Sources:
 * - NIST Handbook 44, Appendix C, General Tables of Units of Measurement: exact avoirdupois, US liquid and
 *   international length factors.
 * - Celsius and Fahrenheit pairs: exact by definition (F = 1.8 C + 32). 55 °C / 131 °F is the pair of 40 CFR 503 App. B,
 *   and 131–170 °F / 55–76.7 °C that of 7 CFR 205.203(c)(2).
 * - "36 in -> 91 cm, 40.1 in -> 101.9 cm": NIST LC 1137, as quoted by a second-hand page.
 * - Bucket test: net lb of 5 US gal × 40.39 = lb/yd³ is 46 656 / 231 / 5, derived from the definitions.
 */
import { describe, expect, it } from 'vitest';
import {
  areaToMm2,
  deciCToUnit,
  estimateMassG,
  formatMass,
  gToUnit,
  gramsUnrounded,
  lengthToMm,
  massToG,
  mlToUnit,
  temperatureToDeciC,
  volumeToMl,
} from '#libs/quantities';

describe('NIST Handbook 44, Appendix C', () => {
  it('100 000 lb are exactly 45 359 237 g', () => {
    expect(massToG({ value: 100_000, unit: 'lb' })).toBe(45_359_237);
    expect(massToG({ value: 1, unit: 'lb' })).toBe(454);
  });

  it('a division of 0.01 lb or 0.5 oz keeps every digit', () => {
    expect(gramsUnrounded({ value: 0.01, unit: 'lb' })).toBe(4.535_923_7);
    expect(gramsUnrounded({ value: 0.5, unit: 'oz' })).toBe(14.174_761_562_5);
    expect(() => gramsUnrounded({ value: -1, unit: 'g' })).toThrow(RangeError);
  });

  it('a short ton is 2 000 lb, 907.184 74 kg', () => {
    expect(massToG({ value: 100, unit: 'short-ton' })).toBe(90_718_474);
    expect(massToG({ value: 100, unit: 'short-ton' })).toBe(massToG({ value: 200_000, unit: 'lb' }));
    expect(gToUnit(90_718_474, 'short-ton')).toBe(100);
  });

  it('an avoirdupois ounce is a sixteenth of a pound, 28.349 523 125 g', () => {
    expect(massToG({ value: 1_000_000_000, unit: 'oz' })).toBe(28_349_523_125);
  });

  it('a US gallon is 3.785 411 784 L and a cubic yard 764.554 857 984 L', () => {
    expect(volumeToMl({ value: 1_000_000, unit: 'gal' })).toBe(3_785_411_784);
    expect(volumeToMl({ value: 1_000_000, unit: 'yd3' })).toBe(764_554_857_984);
    expect(mlToUnit(764_554_857_984, 'gal') / 1_000_000).toBeCloseTo(46_656 / 231, 10);
  });

  it('a cubic foot is 28.316 846 592 L, a 27th of a cubic yard', () => {
    expect(volumeToMl({ value: 1_000_000, unit: 'ft3' })).toBe(28_316_846_592);
    expect(volumeToMl({ value: 27_000_000, unit: 'ft3' })).toBe(
      volumeToMl({ value: 1_000_000, unit: 'yd3' }),
    );
  });

  it('a square foot is 929.030 4 cm², an acre 43 560 of them, a hectare 10 000 m²', () => {
    expect(areaToMm2({ value: 100, unit: 'ft2' })).toBe(9_290_304);
    expect(areaToMm2({ value: 10, unit: 'acre' })).toBe(40_468_564_224);
    expect(areaToMm2({ value: 1, unit: 'acre' })).toBe(areaToMm2({ value: 43_560, unit: 'ft2' }));
    expect(areaToMm2({ value: 1, unit: 'ha' })).toBe(areaToMm2({ value: 10_000, unit: 'm2' }));
  });

  it('an international inch is 2.54 cm and a foot 30.48 cm', () => {
    expect(lengthToMm({ value: 10, unit: 'in' })).toBe(254);
    expect(lengthToMm({ value: 10, unit: 'ft' })).toBe(3_048);
    expect(lengthToMm({ value: 36, unit: 'in' })).toBe(914);
    expect(lengthToMm({ value: 40.1, unit: 'in' })).toBe(1_019);
  });
});

describe('Celsius and Fahrenheit', () => {
  it.each([
    [400, 104],
    [450, 113],
    [500, 122],
    [550, 131],
    [600, 140],
    [650, 149],
    [700, 158],
    [850, 185],
  ])('%i tenths of °C are %i °F both ways', (deciC, fahrenheit) => {
    expect(temperatureToDeciC({ value: fahrenheit, unit: 'F' })).toBe(deciC);
    expect(deciCToUnit(deciC, 'F')).toBe(fahrenheit);
  });

  it.each([
    [170, 767], // 76.67 °C
    [160, 711], // 71.11 °C
    [165, 739], // 73.89 °C
  ])('%i °F is stored as %i tenths of °C', (fahrenheit, deciC) => {
    expect(temperatureToDeciC({ value: fahrenheit, unit: 'F' })).toBe(deciC);
  });
});

describe('estimates from volume', () => {
  it('Zabaleta after Cooperband 2002: 20 L weighing 9 kg net are 0.45 kg/L', () => {
    expect(estimateMassG(volumeToMl({ value: 20, unit: 'L' }), 450)).toBe(9_000);
  });

  it('5 gal at 3.8 lb/gal, 455.3 kg/m³, are 19 lb to the nearest pound', () => {
    const massG = estimateMassG(volumeToMl({ value: 5, unit: 'gal' }), 455.3);
    expect(formatMass(massG, 'lb', 0)).toBe('19');
  });
});

describe('rounding drift (derived)', () => {
  it('a printed total comes from the summed grams, never from printed rows', () => {
    const lots = Array.from({ length: 4 }, () => massToG({ value: 670, unit: 'lb' }));
    const total = lots.reduce((sum, massG) => sum + massG, 0);
    expect(formatMass(total, 'short-ton', 2)).toBe('1.34');
    const printedRows = lots.map((massG) => Number(formatMass(massG, 'short-ton', 2)));
    expect(printedRows.reduce((sum, tons) => sum + tons, 0)).not.toBeCloseTo(1.34, 3);
  });

  it('keeping whole grams costs less than half a gram a lot', () => {
    const lots = Array.from({ length: 1000 }, () => massToG({ value: 27.4, unit: 'lb' }));
    const total = lots.reduce((sum, massG) => sum + massG, 0);
    expect(Math.abs(total - massToG({ value: 27_400, unit: 'lb' }))).toBeLessThanOrEqual(500);
  });
});
