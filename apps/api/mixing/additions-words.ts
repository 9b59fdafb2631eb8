import type { MixFigure, MixTarget, Unmet } from '#libs/materials';
import type { BayFacts } from '../sites/site-facts.service.js';
import { listed, litresWords } from './portions.js';

interface Word {
  name: string;
  unit: string;
}

const words: Readonly<Record<MixFigure, Word>> = {
  carbonToNitrogen: { name: 'C:N', unit: '' },
  moisturePercent: { name: 'moisture', unit: ' %' },
  bulkDensityKgM3: { name: 'bulk density', unit: ' kg/m³' },
  freeAirSpacePercent: { name: 'free air space', unit: ' %' },
};

export const figureWord = (figure: MixFigure): string => words[figure].name;

export const figureList = (figures: readonly MixFigure[]): string => listed(figures.map(figureWord), 'and');

/** "20 to 40", "at most 60.5 %", "at least 475 kg/m³". */
export function rangeWords({ figure, min, max }: Pick<MixTarget, 'figure' | 'min' | 'max'>): string {
  const { unit } = words[figure];
  if (min !== null && max !== null) return `${min} to ${max}${unit}`;
  return min === null ? `at most ${max}${unit}` : `at least ${min}${unit}`;
}

/** "Moisture comes to 68.4 % at the nearest while C:N is kept at most 16, and 40 to 65 % is asked (source)." */
export function unmetWords(unmet: Unmet): string {
  const { target } = unmet;
  const { name, unit } = words[target.figure];
  const asked = `${rangeWords(target)} is asked (${target.source})`;
  const nearest = nearestOf(unmet);
  if (nearest === null) return `Nothing can meet what is asked of ${name}: ${asked}.`;
  const kept = unmet.kept.map((one) => `${figureWord(one.figure)} is kept ${keptWords(one)}`);
  const beside = kept.length === 0 ? '' : ` while ${listed(kept, 'and')}`;
  return `${capital(name)} comes to ${nearest}${unit} at the nearest${beside}, and ${asked}.`;
}

const keptWords = (target: MixTarget): string =>
  `${target.min !== null && target.max !== null ? 'at ' : ''}${rangeWords(target)}`;

/** To a tenth, away from what is asked: 40.02 where 40 is the most would read as if that were met. */
export function nearestOf({ target: { min }, nearest }: Unmet): number | null {
  if (nearest === null) return null;
  // What a solver's last digits are off by is nothing to round away from.
  const inTenths = Number((nearest * 10).toFixed(5));
  return (min !== null && nearest < min ? Math.floor(inTenths) : Math.ceil(inTenths)) / 10;
}

/** Told, not refused: a real pile takes less room than its parts. */
export function bayWords(volumeMl: number | null, bay: BayFacts | null): string[] {
  if (volumeMl === null || bay?.capacityMl == null || volumeMl <= bay.capacityMl) return [];
  const [volume, room] = [litresWords(volumeMl), litresWords(bay.capacityMl)];
  if (volume === room) return [];
  return [
    `The volumes of its parts come to ${volume}, and bay ${bay.code} holds ${room}. A pile settles to less; see that it fits, or begin a second batch.`,
  ];
}

export const MASK =
  'Dry leaves, straw and chips give off dust and mould spores: damp them down first, and wear a mask (common practice).';

export const LIFTING =
  'Carry small loads or share them: 23 kg (51 lb) is the limit in the best conditions only (NIOSH lifting equation).';

export const SQUEEZE =
  'Mix, then squeeze a handful: it should feel like a wrung-out sponge. Add the water little by little, since material differs from its figures (common practice).';

const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);
