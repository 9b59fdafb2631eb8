import { celsiusOf } from '#libs/quantities';
import type { Level } from './rule.js';
import type { Required } from './verdict.js';

/** What a rule asks, in the units it is told in: °C, cm, hours. */
export function requirementOf(required: Required) {
  const { thresholdDeciC, upperLimitDeciC, depthMm, peak, average, carbonToNitrogen, ...same } = required;
  return {
    ...same,
    thresholdC: celsiusOf(thresholdDeciC),
    upperLimitC: upperLimitDeciC === null ? null : celsiusOf(upperLimitDeciC),
    peak: peak && { ...levelOf(peak), hours: peak.hours },
    average: average && levelOf(average),
    carbonToNitrogen: carbonToNitrogen && { ...carbonToNitrogen },
    depthCm: depthMm === null ? null : depthMm / 10,
  };
}

const levelOf = ({ thresholdDeciC, strict }: Level) => ({ thresholdC: celsiusOf(thresholdDeciC), strict });
