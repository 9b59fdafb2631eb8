import { boilingDeciC, type ProcessRule } from '#libs/process';
import { celsiusOf, type Temperature, temperatureToDeciC } from '#libs/quantities';
import type { CheckWarningDto, NewReadingDto } from './checks.dto.js';
import type { Reading } from './readings.js';

/**
 * From here on a pile is near self-ignition: Surrey Fire and Rescue Service, "Fire safety management of compost piles",
 * which asks to act before 70 to 80 °C and, above 80 °C, to call the fire service before a large pile is opened.
 */
const FIRE_DECI_C = 800;
/** A pile freezes at its edges; so far below it is a broken probe that shows this more often than a pile (common practice). */
const DEEP_FROST_DECI_C = -200;

/** What is odd about a check without being a reason to refuse it. */
export function warningsOf(
  readings: readonly Reading[],
  typed: readonly Pick<NewReadingDto, 'temperature'>[],
  rule: ProcessRule | null,
): CheckWarningDto[] {
  return [
    ...readings.flatMap(({ temperatureDeciC }, index) =>
      temperatureDeciC >= FIRE_DECI_C ? [tooHot(temperatureDeciC, index, typed[index]?.temperature)] : [],
    ),
    ...readings.flatMap(({ temperatureDeciC }, index) =>
      temperatureDeciC <= DEEP_FROST_DECI_C ? [tooCold(temperatureDeciC, index)] : [],
    ),
    ...(rule ? [...probeWarnings(readings, rule), ...depthWarnings(readings, rule)] : []),
  ];
}

function tooHot(deciC: number, index: number, typed?: Temperature): CheckWarningDto {
  const text =
    `${celsiusOf(deciC)} °C is hotter than composting makes a pile. ${slipOf(deciC, typed)}Check the probe and the ` +
    'unit. If it is true the pile may be about to burn: do not open it, keep people away, follow the fire plan of ' +
    'the site.';
  return { code: 'too-hot', text, pointer: `/readings/${index}/temperature` };
}

function tooCold(deciC: number, index: number): CheckWarningDto {
  const text =
    `${celsiusOf(deciC)} °C is colder than the inside of a pile gets. Check the probe, its cable and the unit: a broken ` +
    'one shows such a figure. It is kept, and counts against the batch until it is taken back.';
  return { code: 'too-cold', text, pointer: `/readings/${index}/temperature` };
}

/** 140 typed as °C is a burning pile, or a good one read in °F: which of the two, the person at the pile knows. */
function slipOf(deciC: number, typed?: Temperature): string {
  if (deciC <= boilingDeciC || typed?.unit !== 'C') return '';
  const { value } = typed;
  return `Is the unit right? ${value} °F would be ${celsiusOf(temperatureToDeciC({ value, unit: 'F' }))} °C. `;
}

function probeWarnings(
  readings: readonly Reading[],
  { code, minimumProbes }: ProcessRule,
): CheckWarningDto[] {
  if (readings.length >= minimumProbes) return [];
  const text =
    `${readings.length} of the ${minimumProbes} probes that ${code} asks for here: ` +
    'the check will not count.';
  return [{ code: 'too-few-probes', text, pointer: '/readings' }];
}

function depthWarnings(
  readings: readonly Reading[],
  { code, minimumDepthMm }: ProcessRule,
): CheckWarningDto[] {
  if (minimumDepthMm === null) return [];
  const asked = `where ${code} asks for ${minimumDepthMm / 10} cm or deeper: the probe will not count.`;
  return readings.flatMap(({ depthMm }, index): CheckWarningDto[] => {
    const pointer = `/readings/${index}/depth`;
    if (depthMm === null) return [{ code: 'depth-missing', text: `No depth, ${asked}`, pointer }];
    if (depthMm >= minimumDepthMm) return [];
    return [{ code: 'too-shallow', text: `${depthMm / 10} cm, ${asked}`, pointer }];
  });
}
