import { Decimal } from 'decimal.js';
import { type Parameter, parameterOf } from './parameters.js';

/** Wide enough that no figure is rounded by a change of units before it is compared. */
const Exact = Decimal.clone({ precision: 40, rounding: Decimal.ROUND_HALF_EVEN });

export const qualifiers = ['<', '>'] as const;
/** Beside a figure that is only a bound: "<2" is somewhere below 2. */
export type Qualifier = (typeof qualifiers)[number];

/** One figure of a laboratory's report. Its unit is part of it. */
export interface SampleResult {
  /** One of {@link parameters}. */
  readonly parameter: string;
  readonly value: number;
  readonly unit: string;
  readonly qualifier: Qualifier | null;
  /** What the laboratory itself calls it: "moderately stable". Laboratories differ, so it is kept beside our reading. */
  readonly laboratoryWord: string | null;
}

export interface ResultFault {
  readonly field: 'parameter' | 'value' | 'unit' | 'qualifier';
  readonly problem: string;
}

/** What is wrong with a result, for whoever typed it; null when it can be read. */
export function faultOf({ parameter: key, value, unit, qualifier }: SampleResult): ResultFault | null {
  const parameter = parameterOf(key);
  if (!parameter) return { field: 'parameter', problem: `"${key}" is no known parameter` };
  if (!Number.isFinite(value)) return { field: 'value', problem: 'must be a number' };
  const figure = inUnit(value, unit, parameter.units[0].unit, parameter);
  if (figure === null) {
    const units = parameter.units.map((one) => `"${one.unit}"`).join(' or ');
    return {
      field: 'unit',
      problem: `must be ${units}: ${parameter.title} is measured in nothing else here`,
    };
  }
  const { least = 0, most, units } = parameter;
  if (figure.lessThan(least) || figure.greaterThan(most)) {
    return { field: 'value', problem: `must be from ${least} to ${most} ${units[0].unit}` };
  }
  if (qualifier === '<' && figure.lessThanOrEqualTo(least)) {
    return { field: 'qualifier', problem: `nothing is below ${least}` };
  }
  return null;
}

/** A figure in another unit of the same parameter; null where one of them is not a unit of it. */
export function inUnit(value: number, from: string, to: string, { units }: Parameter): Decimal | null {
  const [given, wanted] = [from, to].map((name) => units.find(({ unit }) => unit === name));
  if (!given || !wanted || !Number.isFinite(value)) return null;
  return new Exact(value)
    .times(given.num)
    .times(wanted.den)
    .dividedBy(given.den * wanted.num);
}

/** "<2 MPN/4 g dry", "12:1", "85 % of control". */
export function sayResult({
  value,
  unit,
  qualifier,
}: Omit<SampleResult, 'parameter' | 'laboratoryWord'>): string {
  return sayInUnit(`${qualifier ?? ''}${value}`, unit);
}

/** A ratio and pH are written without a space and without a unit. */
export function sayInUnit(figure: string, unit: string): string {
  if (unit === ':1') return `${figure}${unit}`;
  return unit === 'pH' ? `pH ${figure}` : `${figure} ${unit}`;
}
