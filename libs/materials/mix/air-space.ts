import type { MaterialFigure, MaterialFigures } from '../figures.js';
import { balanceOf, lackingForBalance } from './balance.js';
import { organicSpanFromCarbon } from './carbon.js';
import { type Span, spanOf } from './span.js';

/**
 * Densities of what a heap is made of, without any air, kg/m³ (or g/L). Water by definition; organic matter and ash from
 * memory, after Richard et al. (2002, 2004): not checked against the paper.
 */
const particleDensityKgM3 = { water: 1000, organic: 1600, ash: 2500 } as const;

/**
 * The litres that one gram takes up itself, air left out: (1 − DM)/ρw + DM·OM/ρom + DM·(1 − OM)/ρash. Free air space is what
 * is left of the bulk volume, FAS = 1 − BDw × this (Richard et al., from memory). Told per gram, it adds up over a mix.
 */
function occupiedLPerG(moisturePercent: number, organicPercentDry: number): number {
  const water = moisturePercent / 100;
  const organic = (1 - water) * (organicPercentDry / 100);
  const ash = (1 - water) * (1 - organicPercentDry / 100);
  return (
    water / particleDensityKgM3.water + organic / particleDensityKgM3.organic + ash / particleDensityKgM3.ash
  );
}

/** The same over ranges. It is linear in each of the two, so its ends lie where both are at an end. */
export function occupiedSpan(moisture: Span, organic: Span): Span {
  const ends = [moisture.min, moisture.max].flatMap((m) =>
    [organic.min, organic.max].map((o) => occupiedLPerG(m, o)),
  );
  return {
    typical: occupiedLPerG(moisture.typical, organic.typical),
    min: Math.min(...ends),
    max: Math.max(...ends),
  };
}

export interface OrganicMatter {
  /** In per cent of the dry matter. */
  readonly percentDry: Span;
  readonly from: readonly MaterialFigure[];
}

/** All that is not ash; where ash is unknown, from carbon. Null where neither is known. */
export function organicMatterOf(material: MaterialFigures): OrganicMatter | null {
  if (material.ashPercentDry !== null) {
    const { typical, min, max } = spanOf(material.ashPercentDry);
    const percentDry = { typical: 100 - typical, min: 100 - max, max: 100 - min };
    return { percentDry, from: ['ashPercentDry'] };
  }
  if (material.carbonPercentDry !== null) {
    const percentDry = organicSpanFromCarbon(spanOf(material.carbonPercentDry));
    return { percentDry, from: ['carbonPercentDry'] };
  }
  const balance = balanceOf(material);
  if (balance === null) return null;
  const carbons = balance.corners.map(({ carbon }) => carbon);
  const carbon = {
    typical: balance.typical.carbon,
    min: Math.min(...carbons),
    max: Math.max(...carbons),
  };
  return { percentDry: organicSpanFromCarbon(carbon), from: balance.from };
}

/** Of organic material, what gives its carbon for C:N will do here too. */
export function lackingForOrganicMatter(material: MaterialFigures): MaterialFigure[] {
  return material.kind === 'organic' ? lackingForBalance(material) : ['ashPercentDry'];
}
