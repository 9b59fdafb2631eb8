import { Exact, exactAmountOf, exactOf, requireWhole, wholeOf } from './exact.js';

export const temperatureUnits = ['C', 'F'] as const;
export type TemperatureUnit = (typeof temperatureUnits)[number];

/** A temperature as a person entered it. */
export interface Temperature {
  readonly value: number;
  readonly unit: TemperatureUnit;
}

const absoluteZeroC = new Exact('-273.15');

/** Tenths of °C, rounded half to even once. Throws RangeError when not finite, below absolute zero, or too large to be exact. */
export function temperatureToDeciC(temperature: Temperature): number {
  const value = exactOf(temperature.value, 'temperature');
  const celsius = temperature.unit === 'C' ? value : value.minus(32).times(5).dividedBy(9);
  if (celsius.lessThan(absoluteZeroC)) {
    throw new RangeError(`temperature is below absolute zero: ${temperature.value} °${temperature.unit}`);
  }
  return wholeOf(celsius.times(10), 'temperature');
}

/** A difference of temperatures in tenths of °C, rounded half to even: the resolution of a thermometer. Throws RangeError when not finite or negative. */
export function temperatureStepToDeciC(step: Temperature): number {
  const value = exactAmountOf(step.value, 'temperature step');
  return wholeOf((step.unit === 'C' ? value : value.times(5).dividedBy(9)).times(10), 'temperature step');
}

/** Tenths of °C as °C. Throws RangeError unless `deciC` is whole. */
export function celsiusOf(deciC: number): number {
  return requireWhole(deciC, 'deciC') / 10;
}

/** Tenths of °C in another unit, for display. Throws RangeError unless `deciC` is whole. */
export function deciCToUnit(deciC: number, unit: TemperatureUnit): number {
  if (unit === 'C') return celsiusOf(deciC);
  return new Exact(requireWhole(deciC, 'deciC')).times(9).dividedBy(50).plus(32).toNumber();
}
