import { temperatureToDeciC } from '#libs/quantities';
import {
  agriFutures,
  aphis,
  commonPractice,
  lsu,
  manitoba,
  nrcs,
  type PracticeSource,
  surrey,
  turnTrigger,
} from './sources.js';

const fahrenheit = (value: number): number => temperatureToDeciC({ value, unit: 'F' });

export type HeatKey = 'fire-danger' | 'too-hot' | 'hot';

/** From a temperature on, what a source says of it. */
export interface HeatBand {
  readonly key: HeatKey;
  readonly deciC: number;
  /** The temperature itself does not count yet: "above". */
  readonly strict: boolean;
  readonly says: string;
  readonly source: PracticeSource;
}

/**
 * The hottest first. Where a source says "above" of a figure at which fire is in question, the figure itself is taken as
 * reached: a thermometer is not that exact.
 */
export const heatBands: readonly HeatBand[] = [
  {
    key: 'fire-danger',
    deciC: fahrenheit(185),
    strict: false,
    says: 'A pile above 85 °C (185 °F) is to be cooled at once.',
    source: nrcs,
  },
  {
    key: 'fire-danger',
    deciC: 800,
    strict: false,
    says: 'Above 80 °C (176 °F) a pile may ignite: where the overheated part is too large to deal with safely, the fire service is asked before the pile is opened.',
    source: surrey,
  },
  {
    key: 'too-hot',
    deciC: fahrenheit(165),
    strict: true,
    says: 'Temperatures above 74 °C (165 °F) are to be watched closely.',
    source: nrcs,
  },
  {
    key: 'too-hot',
    deciC: fahrenheit(160),
    strict: false,
    says: 'At 71 °C (160 °F) many turn or aerate.',
    source: turnTrigger,
  },
  {
    key: 'too-hot',
    deciC: 700,
    strict: false,
    says: 'From 70 to 80 °C (158 to 176 °F) the conditions for self-ignition may be there.',
    source: surrey,
  },
  {
    key: 'hot',
    deciC: 650,
    strict: true,
    says: 'Composting works well up to about 65 °C (149 °F), and above 70 °C it is too hot for the microbes.',
    source: manitoba,
  },
];

/** A figure to judge by, and who says so. */
export interface Limit {
  readonly at: number;
  readonly source: PracticeSource;
}

export const limits = {
  /** Lower end of the working range; job sheet 317 wants it held for the rest of the composting period. */
  warmDeciC: { at: fahrenheit(110), source: nrcs },
  /** Operating temperature, to be reached within about 7 days. */
  operatingDeciC: { at: fahrenheit(131), source: nrcs },
  heatingDays: { at: 7, source: nrcs },
  /** Most piles warm up sooner. */
  warmingDays: { at: 3, source: commonPractice },
  leastMoisturePercent: { at: 40, source: lsu },
  mostMoisturePercent: { at: 65, source: lsu },
  leastCarbonToNitrogen: { at: 20, source: lsu },
  mostCarbonToNitrogen: { at: 40, source: lsu },
  /** 1,200 lb/yd³. */
  mostDensityKgM3: { at: 712, source: lsu },
  /** 1,100 lb/yd³: denser is not wanted. */
  goodDensityKgM3: { at: 653, source: lsu },
  leastOxygenPercent: { at: 5, source: lsu },
  /** A cube of three feet, 1 yd³. */
  leastVolumeMl: { at: 764_555, source: commonPractice },
  /** Probes that agree within 10 °F need not be closer together. */
  agreementDeciC: { at: 55, source: aphis },
  /** A curing pile that gets this hot after turning reheats. */
  reheatDeciC: { at: 450, source: agriFutures },
  /** Within about so much of the air, a pile has cured. */
  curedAboveAirDeciC: { at: 50, source: agriFutures },
  /** A pile may take so long to reheat after a turn. */
  reheatDays: { at: 3, source: commonPractice },
  /** What was seen longer ago says little of today. */
  freshDays: { at: 14, source: commonPractice },
  coldAirDeciC: { at: 50, source: commonPractice },
} as const satisfies Record<string, Limit>;
