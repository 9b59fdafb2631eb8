import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  celsiusOf,
  deciCToUnit,
  temperatureStepToDeciC,
  temperatureToDeciC,
  temperatureUnits,
} from '#libs/quantities';

describe('temperatures', () => {
  it('come back as stored after being shown in any unit', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: -2731, max: 100_000 }),
        fc.constantFrom(...temperatureUnits),
        (deciC, unit) => {
          expect(temperatureToDeciC({ value: deciCToUnit(deciC, unit), unit })).toBe(deciC);
        },
      ),
    );
  });

  it('round a tie to even, on either side of zero', () => {
    expect(temperatureToDeciC({ value: 32.09, unit: 'F' })).toBe(0); // exactly 0.05 °C
    expect(temperatureToDeciC({ value: 32.27, unit: 'F' })).toBe(2); // exactly 0.15 °C
    expect(temperatureToDeciC({ value: -0.25, unit: 'C' })).toBe(-2);
  });

  it('never round a reading just below a threshold up to it by more than half a tenth', () => {
    expect(temperatureToDeciC({ value: 130.9, unit: 'F' })).toBe(549);
    expect(temperatureToDeciC({ value: 131, unit: 'F' })).toBe(550);
  });

  it('may be below zero but not below absolute zero', () => {
    expect(temperatureToDeciC({ value: -40, unit: 'F' })).toBe(-400);
    expect(temperatureToDeciC({ value: -40, unit: 'C' })).toBe(-400);
    expect(() => temperatureToDeciC({ value: -273.16, unit: 'C' })).toThrow('absolute zero');
    expect(() => temperatureToDeciC({ value: -460, unit: 'F' })).toThrow('absolute zero');
  });

  it('refuse what is not a temperature', () => {
    for (const value of [Number.NaN, Number.POSITIVE_INFINITY, 1e300]) {
      expect(() => temperatureToDeciC({ value, unit: 'C' })).toThrow(RangeError);
    }
    expect(() => celsiusOf(550.5)).toThrow(RangeError);
    expect(() => deciCToUnit(Number.NaN, 'F')).toThrow(RangeError);
  });

  it('are told apart from steps between them, which have no offset', () => {
    expect(temperatureStepToDeciC({ value: 9, unit: 'F' })).toBe(50);
    expect(temperatureStepToDeciC({ value: 1, unit: 'F' })).toBe(6); // 5/9 °C
    expect(temperatureStepToDeciC({ value: 0.1, unit: 'C' })).toBe(1);
    expect(() => temperatureStepToDeciC({ value: -1, unit: 'F' })).toThrow(RangeError);
  });
});
