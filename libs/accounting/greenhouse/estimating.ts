import { Decimal } from 'decimal.js';
import { kgOf, massToG, sumG } from '#libs/quantities';
import {
  type GreenhouseEstimate,
  type GreenhouseLine,
  type WasteCategory,
  wasteCategories,
} from './estimate.js';
import { greenhouseSet } from './sets.js';
import type { GreenhouseSet } from './set.js';
import { estimateNotes } from './words.js';

const Exact = Decimal.clone({ precision: 60, rounding: Decimal.ROUND_HALF_EVEN });

/** What was accepted of one material: its name, and the mass in kilograms to the gram, zero or more. */
export interface GreenhouseInput {
  /** Null where nobody has said what kind of waste the material is; it counts as `other`. */
  readonly category: WasteCategory | null;
  readonly material: string;
  readonly massKg: number;
}

interface Carbon {
  readonly composting: Decimal;
  readonly landfill: Decimal | null;
}

/**
 * What composting these materials gave off or saved by one set of factors, category by category and in all, each figure
 * rounded once (half to even, three decimals of a tonne) from its exact value: printed lines need not add up to the total.
 * Signs are the method's own. Throws RangeError on an unknown set and on a mass below zero.
 */
export function estimateGreenhouse(setCode: string, inputs: readonly GreenhouseInput[]): GreenhouseEstimate {
  const set = greenhouseSet(setCode);
  const groups = wasteCategories
    .map((category) => ({
      category,
      inputs: inputs.filter((input) => (input.category ?? 'other') === category),
    }))
    .filter(({ inputs: found }) => found.length > 0)
    .map(({ category, inputs: found }) => {
      const massG = sumG(found.map(({ massKg }) => massToG({ value: massKg, unit: 'kg' })));
      const materials = [...new Set(found.map(({ material }) => material))].sort();
      return { category, materials, massG, carbon: carbonOf(set, category, massG) };
    });
  const lines = groups.map(({ category, materials, massG, carbon }) => ({
    category,
    materials,
    massKg: kgOf(massG),
    ...printed(carbon),
  }));
  const known = groups.filter(({ carbon }) => carbon !== null);
  const unknown = groups.filter(({ carbon }) => carbon === null);
  return {
    set: set.code,
    title: set.title,
    version: set.version,
    source: `${set.source} (${set.checked})`,
    lines,
    total: {
      massKg: kgOf(sumG(known.map(({ massG }) => massG))),
      ...printed(sumOf(known.flatMap(({ carbon }) => carbon ?? []))),
    },
    unknownKg: kgOf(sumG(unknown.map(({ massG }) => massG))),
    factors: set.factorsOf(known.map(({ category }) => category)),
    notes: estimateNotes(set, lines),
  };
}

function carbonOf(set: GreenhouseSet, category: WasteCategory, massG: number): Carbon | null {
  const factors = set.byCategory[category];
  if (!factors) return null;
  const units = new Exact(massG).dividedBy(1000).dividedBy(set.perKg);
  return {
    composting: units.times(factors.composting),
    landfill: factors.landfill === null ? null : units.times(factors.landfill),
  };
}

/** Null when nothing is known; a sum with a landfill only where every part has one. */
function sumOf(parts: readonly Carbon[]): Carbon | null {
  if (parts.length === 0) return null;
  const add = (values: readonly Decimal[]) => values.reduce((sum, value) => sum.plus(value), new Exact(0));
  const landfills = parts.flatMap(({ landfill }) => landfill ?? []);
  return {
    composting: add(parts.map(({ composting }) => composting)),
    landfill: landfills.length === parts.length ? add(landfills) : null,
  };
}

function printed(
  carbon: Carbon | null,
): Pick<GreenhouseLine, 'compostingTCo2e' | 'landfillTCo2e' | 'differenceTCo2e'> {
  const landfill = carbon?.landfill ?? null;
  return {
    compostingTCo2e: carbon && thousandths(carbon.composting),
    landfillTCo2e: landfill && thousandths(landfill),
    differenceTCo2e: carbon && landfill && thousandths(carbon.composting.minus(landfill)),
  };
}

function thousandths(tonnes: Decimal): number {
  return tonnes.toDecimalPlaces(3).toNumber() + 0; // never −0, which would print as "-0"
}
