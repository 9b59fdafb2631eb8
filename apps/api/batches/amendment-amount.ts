import { estimateMassG, massToG, volumeToMl } from '#libs/quantities';
import { invalid } from '../http/problems/catalogue.js';
import { type Density, type IntakeFacts, measureOf } from '../sites/site-facts.service.js';
import type { NewAmendmentDto } from './amendments.dto.js';
import type { AmendmentRow } from './amendments.records.js';

export type Amount = Pick<AmendmentRow, 'basis' | 'massG' | 'volumeMl' | 'densityKgM3' | 'densitySource'> & {
  entered: string;
};

/** What the yard knows of what was told. */
export interface Known {
  siteId: string;
  materialCode: string;
  container: IntakeFacts['container'];
  /** Of the material at the yard at that moment. */
  density: Density | null;
}

/** What no heap of a yard holds: the same that a single volume may be. */
const MOST_ML = 200_000_000;

/** Grams from one of mass, volume and containers. */
export function amountOf({ mass, volume, containers }: NewAmendmentDto, known: Known): Amount {
  const told = Object.entries({ mass, volume, containers }).filter(([, amount]) => amount !== undefined);
  if (told.length !== 1)
    throw invalid(`/${told[1]?.[0] ?? 'mass'}`, 'send one of mass, volume and containers');
  const entered = JSON.stringify(Object.fromEntries(told));
  if (mass) {
    const massG = massToG(mass);
    if (massG === 0) throw invalid('/mass', 'must be more than nothing');
    return { basis: 'scale', massG, volumeMl: null, densityKgM3: null, densitySource: null, entered };
  }
  const volumeMl = volume ? volumeToMl(volume) : millilitresOf(containers, known);
  return { ...estimated(volumeMl, volume ? '/volume' : '/containers', known), entered };
}

function millilitresOf(containers: NewAmendmentDto['containers'], { container, siteId }: Known): number {
  const measure = measureOf(container, siteId, '/containers/containerId');
  const volumeMl = Math.round((containers?.count ?? 0) * measure.volumeMl);
  if (volumeMl > MOST_ML) throw invalid('/containers/count', 'must come to at most 200 m3');
  return volumeMl;
}

function estimated(
  volumeMl: number,
  pointer: string,
  { density, materialCode }: Known,
): Omit<Amount, 'entered'> {
  if (density === null)
    throw invalid(pointer, `no bulk density of ${materialCode} is known: weigh it, or add its density`);
  const massG = estimateMassG(volumeMl, density.kgM3);
  if (massG === 0) throw invalid(pointer, 'must be more than nothing');
  return { basis: 'volume', massG, volumeMl, densityKgM3: density.kgM3, densitySource: density.source };
}
