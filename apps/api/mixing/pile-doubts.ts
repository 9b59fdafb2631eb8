import type { PileShape } from '#libs/quantities';
import type { PileWarningDto } from '../batches/pile-measurements.service.js';
import type { BayFacts } from '../sites/site-facts.service.js';
import { litresWords } from './portions.js';

export interface DoubtedPile {
  shape: PileShape;
  widthM: number;
  heightM: number;
  volumeMl: number;
  /** Where it lay then; null where it lay in none. */
  bay: Pick<BayFacts, 'code' | 'capacityMl'> | null;
  /** Of the mix as it was built; null where it is not known. */
  mixMl: number | null;
}

// Common practice, no standard: loaders of small yards reach about 3 m, and loose material lies at 45° or flatter.
const TALL_M = 5;
// Our own choice: a mix settles and never swells, and its densities may be off by half and more.
const FAR_BEYOND = 3;

/** All that is worth a second look in how big a pile was found to be. Nothing here refuses it. */
export function doubtsInPile(pile: DoubtedPile): PileWarningDto[] {
  return [...volumeDoubts(pile), ...sizeDoubts(pile)];
}

function volumeDoubts({ volumeMl, bay, mixMl }: DoubtedPile): PileWarningDto[] {
  const volume = litresWords(volumeMl);
  const warnings: PileWarningDto[] = [];
  if (bay?.capacityMl != null && volumeMl > bay.capacityMl) {
    const text = `${volume} is more than bay ${bay.code} holds, ${litresWords(bay.capacityMl)}.`;
    warnings.push({ code: 'more-than-the-bay', text });
  }
  if (mixMl !== null && mixMl > 0 && volumeMl > mixMl * FAR_BEYOND) {
    const text = `${volume} is more than ${FAR_BEYOND} times what its mix came to, ${litresWords(mixMl)}, and a pile settles.`;
    warnings.push({ code: 'more-than-went-in', text });
  }
  return warnings;
}

function sizeDoubts({ shape, widthM, heightM }: DoubtedPile): PileWarningDto[] {
  const warnings: PileWarningDto[] = [];
  if (heightM > TALL_M) {
    const text = `Hardly a pile is higher than ${TALL_M} m, and one so high may heat until it burns (common practice).`;
    warnings.push({ code: 'tall', text, pointer: '/height' });
  }
  if (shape !== 'bin' && heightM > widthM) {
    const text = 'It is higher than it is wide: loose material does not lie so steep (common practice).';
    warnings.push({ code: 'steep', text, pointer: '/height' });
  }
  return warnings;
}
