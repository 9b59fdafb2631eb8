import type { FigureValue } from './contradictions.js';
import { basisOf, type MaterialFigure, materialFigures, type MaterialFigures } from './figures.js';
import { droppedOf } from './dropped.js';
import { type Reading, withMeasured } from './measured.js';
import { carbonPercentFromAsh } from './mix/carbon.js';

export const measuredDoubtCodes = [
  'far-from-list',
  'too-dense',
  'too-light',
  'too-much-nitrogen',
  'carbon-against-ash',
  'list-left-out',
] as const;
export type MeasuredDoubtCode = (typeof measuredDoubtCodes)[number];

/** Something in a measurement to look at again. It says both numbers, and refuses nothing. */
export interface MeasuredDoubt {
  readonly code: MeasuredDoubtCode;
  readonly figure: MaterialFigure;
  readonly text: string;
}

/** One sample; null is what was not measured. */
export type Sample = Readonly<Record<MaterialFigure, number | null>>;

// The factor is our own: no publication says how far a load may lie from its range.
const FAR = 2;
/** Wet clay (Engineering ToolBox, Dirt and Mud: Densities). */
const WET_CLAY_KG_M3 = 1760;
/** Common practice: loose dry leaves and torn cardboard, the lightest that are composted, weigh at least half as much again. */
const LIGHTEST_KG_M3 = 20;
/** Hoof and horn meal, the richest organic fertiliser of the table (Texas A&M, Earth-Kind Gardening, on plantanswers.com). */
const HORN_MEAL_NITROGEN_PERCENT = 14;
/** What ash leaves is within a tenth (Gotaas 1956, in Polprasert); pure fat is 1.4 times that. Beyond half as much again: our own. */
const CARBON_APART = 1.5;

/** What is worth a second look in a sample of a material, held against the list and against what can well be. */
export function doubtsIn(listed: MaterialFigures, sample: Sample): MeasuredDoubt[] {
  return [...farFromList(listed, sample), ...unlikely(listed, sample), ...droppedFromList(listed, sample)];
}

function farFromList(listed: MaterialFigures, sample: Sample): MeasuredDoubt[] {
  return materialFigures.flatMap((figure): MeasuredDoubt[] => {
    const [value, known] = [sample[figure], listed[figure]];
    const how = value !== null && known && farness(figure, value, known);
    if (!how) return [];
    const text = `${began(figure, value)} ${how} what the list has of ${listed.name}: ${rangeOf(figure, known)}.`;
    return [{ code: 'far-from-list', figure, text }];
  });
}

/** Of moisture, half as dry counts as well as half as wet: no material can be twice as wet as one of 77 %. */
function farness(figure: MaterialFigure, value: number, { typical, min, max }: FigureValue): string | null {
  const [least, most] = [min ?? typical, max ?? typical];
  if (value < least / FAR) return 'is less than half of';
  if (figure === 'moisturePercent')
    return 100 - value < (100 - most) / FAR ? 'leaves less than half the dry matter of' : null;
  return value > most * FAR ? 'is more than twice' : null;
}

function unlikely(listed: MaterialFigures, sample: Sample): MeasuredDoubt[] {
  const { bulkDensityKgM3: density, nitrogenPercentDry: nitrogen } = sample;
  const doubts: MeasuredDoubt[] = [];
  const mostDense = Math.max(WET_CLAY_KG_M3, mostOf(listed.bulkDensityKgM3));
  if (density !== null && density > mostDense) {
    const text = `${began('bulkDensityKgM3', density)} is more than that of wet clay (${WET_CLAY_KG_M3} kg/m³): are mass and volume of one bucket, and is the bucket taken off?`;
    doubts.push({ code: 'too-dense', figure: 'bulkDensityKgM3', text });
  }
  if (density !== null && density < LIGHTEST_KG_M3) {
    const text = `${began('bulkDensityKgM3', density)} is less than that of anything usually composted (${LIGHTEST_KG_M3} kg/m³): is the volume right?`;
    doubts.push({ code: 'too-light', figure: 'bulkDensityKgM3', text });
  }
  const mostNitrogen = Math.max(HORN_MEAL_NITROGEN_PERCENT, mostOf(listed.nitrogenPercentDry));
  if (nitrogen !== null && nitrogen > mostNitrogen) {
    const text = `${began('nitrogenPercentDry', nitrogen)} is more than hoof and horn meal has (${HORN_MEAL_NITROGEN_PERCENT} %): is it protein, or in another unit?`;
    doubts.push({ code: 'too-much-nitrogen', figure: 'nitrogenPercentDry', text });
  }
  return [...doubts, ...carbonAgainstAsh(sample)];
}

function carbonAgainstAsh({ carbonPercentDry: carbon, ashPercentDry: ash }: Sample): MeasuredDoubt[] {
  if (carbon === null || ash === null) return [];
  const left = carbonPercentFromAsh(ash);
  if (carbon <= left * CARBON_APART && carbon >= left / CARBON_APART) return [];
  const text = `${began('carbonPercentDry', carbon)} is far from the ${printed(left)} % that an ash of ${printed(ash)} % usually leaves, (100 − ash) / 1.8.`;
  return [{ code: 'carbon-against-ash', figure: 'carbonPercentDry', text }];
}

function droppedFromList(listed: MaterialFigures, sample: Sample): MeasuredDoubt[] {
  const readings = materialFigures.flatMap((figure): Reading[] => {
    const value = sample[figure];
    return value === null ? [] : [{ figure, value, atMs: 0, measuredOn: '', source: '' }];
  });
  return droppedOf(listed, withMeasured(listed, readings)).map((one) => ({
    code: 'list-left-out',
    figure: one.beside,
    text: `${began(one.beside, one.measured)} cannot go with the ${amountOf(one.figure, one.listed)} that the list has of ${listed.name}, which is not used beside it.`,
  }));
}

const mostOf = (known: FigureValue | null): number => known?.max ?? known?.typical ?? 0;

const names: Readonly<Record<MaterialFigure, string>> = {
  nitrogenPercentDry: 'nitrogen',
  carbonPercentDry: 'carbon',
  carbonToNitrogen: 'C:N',
  ashPercentDry: 'ash',
  moisturePercent: 'moisture',
  bulkDensityKgM3: 'bulk density',
};

function unitOf(figure: MaterialFigure): string {
  if (figure === 'carbonToNitrogen') return '';
  return figure === 'bulkDensityKgM3' ? ' kg/m³' : ` % of the ${basisOf[figure]}`;
}

/** "nitrogen of 31 % of the dry matter" */
export function amountOf(figure: MaterialFigure, value: number): string {
  return `${names[figure]} of ${printed(value)}${unitOf(figure)}`;
}

function began(figure: MaterialFigure, value: number): string {
  const amount = amountOf(figure, value);
  return `${amount.charAt(0).toUpperCase()}${amount.slice(1)}`;
}

function rangeOf(figure: MaterialFigure, { typical, min, max }: FigureValue): string {
  const [least, most] = [min ?? typical, max ?? typical];
  return `${least === most ? printed(least) : `${printed(least)} to ${printed(most)}`}${unitOf(figure)}`;
}

const printed = (value: number): string => String(Math.round(value * 100) / 100);
