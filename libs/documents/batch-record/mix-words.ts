import type { BatchRecord } from './record.js';
import type { MaterialFigure, MaterialGap, MixFigure, MixTarget, Verification } from './record-mix.js';

/** The figures of a mix as they are headed, on paper and on the page. */
export const MIX_NAMES: Readonly<Record<MixFigure, string>> = {
  carbonToNitrogen: 'Carbon to nitrogen',
  moisturePercent: 'Moisture, %',
  bulkDensityKgM3: 'Bulk density, kg/m³',
  freeAirSpacePercent: 'Free air space, %',
};

const SPOKEN: Readonly<Record<MixFigure, readonly [name: string, unit: string]>> = {
  carbonToNitrogen: ['carbon to nitrogen', ''],
  moisturePercent: ['moisture', ' %'],
  bulkDensityKgM3: ['bulk density', ' kg/m³'],
  freeAirSpacePercent: ['free air space', ' %'],
};

/** "moisture 64.9 %", "bulk density up to 712 kg/m³". */
export const spoken = (figure: MixFigure, said: number | string): string =>
  `${SPOKEN[figure][0]} ${String(said)}${SPOKEN[figure][1]}`;

/** The figures of a material as they are spoken of. */
export const MATERIAL_NAMES: Readonly<Record<MaterialFigure, string>> = {
  nitrogenPercentDry: 'nitrogen',
  carbonPercentDry: 'carbon',
  carbonToNitrogen: 'carbon to nitrogen',
  ashPercentDry: 'ash',
  moisturePercent: 'moisture',
  bulkDensityKgM3: 'bulk density',
};

/** What follows the figures of a material. */
export const MATERIAL_UNITS: Readonly<Record<MaterialFigure, string>> = {
  nitrogenPercentDry: ' % of dry matter',
  carbonPercentDry: ' % of dry matter',
  carbonToNitrogen: ' to 1',
  ashPercentDry: ' % of dry matter',
  moisturePercent: ' % of wet mass',
  bulkDensityKgM3: ' kg/m³ as it lies',
};

/** How far a figure was checked. */
export const CHECKED: Readonly<Record<Verification, string>> = {
  verified: 'read in the source',
  mirror: 'read on a third-party copy',
  secondary: 'read where another text quotes it',
  'from-memory': 'from memory, not checked',
  derived: 'worked out from other figures, or our own estimate',
  local: 'typed in by the programme',
};

/** "25 to 30", "up to 653", "from 40". */
export function rangeInWords({ min, max }: { min: number | null; max: number | null }): string {
  if (min === null) return max === null ? 'any' : `up to ${String(max)}`;
  return max === null ? `from ${String(min)}` : `${String(min)} to ${String(max)}`;
}

/** "reasonable, 20 to 40: within, not for sure". */
export const standingInWords = (target: MixTarget): string =>
  `${target.grade}, ${rangeInWords(target)}: ${stateInWords(target)}`;

function stateInWords({ state, sure }: MixTarget): string {
  if (state === 'unknown') return 'not known';
  return sure === false ? `${state}, not for sure` : state;
}

/** "Leaves (nitrogen, moisture); Wood chips (moisture)". */
export function gapsInWords(gaps: readonly MaterialGap[]): string {
  const materials = [...new Set(gaps.map(({ material }) => material))];
  return materials
    .map((name) => {
      const figures = gaps.filter(({ material }) => material === name).map(({ figure }) => nameOf(figure));
      return `${name} (${figures.join(', ')})`;
    })
    .join('; ');
}

const nameOf = (figure: string): string => (isKnown(figure) ? MATERIAL_NAMES[figure] : figure);

const isKnown = (figure: string): figure is MaterialFigure => Object.hasOwn(MATERIAL_NAMES, figure);

/** Each source once: "A" and "A: table 2", which are of one publication, are "A (table 2)". */
export function sourcesInWords(sources: readonly string[]): string {
  const places = new Map<string, Set<string>>();
  for (const source of sources) {
    const [title = '', ...place] = source.split(': ');
    const known = places.get(title) ?? new Set();
    if (place.length > 0) known.add(place.join(': '));
    places.set(title, known);
  }
  return [...places]
    .map(([title, of]) => (of.size === 0 ? title : `${title} (${[...of].join('; ')})`))
    .join('; ');
}

/** What went in after the mix was made, which the figures of the mix leave out; null where it is the same. */
export function laterInWords({ balance, mix }: Pick<BatchRecord, 'balance' | 'mix'>): string | null {
  if (!balance || !mix || mix.figuresAsOf === null || balance.inputKg <= mix.massKg) return null;
  return (
    `In the mass balance ${String(balance.inputKg)} kg went in: what was added after the building, mostly water, ` +
    'is part of what went in, and not of the mix.'
  );
}

/** "0.8 to 1 by mass, 0.3 to 1 by volume"; null where neither is known. */
export function greensInWords({
  byMass,
  byVolume,
}: {
  byMass: number | null;
  byVolume: number | null;
}): string | null {
  const said = [
    ...(byMass === null ? [] : [`${String(byMass)} to 1 by mass`]),
    ...(byVolume === null ? [] : [`${String(byVolume)} to 1 by volume`]),
  ];
  return said.length === 0 ? null : said.join(', ');
}
