import { bullets } from '../../pdf/list.js';
import { STYLE } from '../../pdf/look.js';
import type { Notes } from '../../pdf/notes.js';
import type { Sheet } from '../../pdf/sheet.js';
import { type Column, type Pair, pairs, table } from '../../pdf/table.js';
import { intro, paragraph, subheading } from '../../pdf/text.js';
import {
  CHECKED,
  gapsInWords,
  greensInWords,
  laterInWords,
  MIX_NAMES,
  rangeInWords,
  standingInWords,
} from '../mix-words.js';
import {
  type MaterialFigure,
  type MaterialValue,
  MIX_FIGURES,
  type MixFigures,
  type MixMaterial,
} from '../record-mix.js';
import { type Clock, figure, NONE, sentence, withUnit } from '../words.js';
import { kg } from './columns.js';
import type { Writing } from './page.js';

export function mix({ sheet, record, clock }: Writing, mix: MixFigures, notes: Notes): void {
  subheading(sheet, 'The mix at its start, computed from the figures of its materials');
  pairs(sheet, sums(mix, clock));
  const later = laterInWords(record);
  if (later !== null) paragraph(sheet, later);
  figures(sheet, mix, notes);
  gaps(sheet, mix);
  if (mix.method !== null) paragraph(sheet, mix.method, STYLE.note, { after: 8 });
  materials(sheet, mix, notes);
  cautions(sheet, mix, notes);
}

function sums(mix: MixFigures, clock: Clock): Pair[] {
  const { weighedKg, estimatedKg, unknownKg, figuresAsOf } = mix;
  const ratio = greensInWords(mix.greensToBrowns);
  const parts: (Pair | null)[] = [
    ['Mass of the mix', withUnit(mix.massKg, 'kg')],
    ['Volume', withUnit(mix.volumeL, 'L')],
    weighedKg === null ? null : ['Of it weighed', withUnit(weighedKg, 'kg')],
    estimatedKg === null ? null : ['Of it estimated', withUnit(estimatedKg, 'kg')],
    ratio === null ? null : ['Greens to browns', ratio],
    unknownKg === null || unknownKg === 0 ? null : ['Figures missing for', withUnit(unknownKg, 'kg')],
    figuresAsOf === null ? null : ['Figures as of', clock(figuresAsOf)],
  ];
  return parts.filter((pair) => pair !== null);
}

/** One row a figure, with everything that is asked of it under one another. */
function figures(sheet: Sheet, mix: MixFigures, notes: Notes): void {
  table(
    sheet,
    [
      { title: 'Figure', width: 82 },
      { title: 'This batch', align: 'figure', width: 46 },
      { title: 'Between', width: 70 },
      { title: 'Known for, % of mass', align: 'figure', width: 46 },
      { title: 'Asked for: this batch', share: 1 },
    ],
    MIX_FIGURES.map((name) => {
      const { value, range, knownMassPercent } = mix.figures[name];
      const targets = mix.targets.filter((target) => target.figure === name);
      return {
        cells: [
          MIX_NAMES[name],
          figure(value),
          range === null ? NONE : rangeInWords(range),
          figure(knownMassPercent),
          targets
            .map((target) => `${sentence(standingInWords(target))} ${notes.mark([target.source])}`)
            .join('\n'),
        ],
      };
    }),
  );
}

const NOT_FOR_SURE =
  'Not for sure: the range reaches further than the state that is told, or some of the mass is not known.';

function gaps(sheet: Sheet, { targets, missing, withoutRange, contradicted }: MixFigures): void {
  for (const { material, detail } of contradicted)
    paragraph(sheet, `The figures of ${material} were taken as unknown: ${detail}.`, STYLE.strong);
  if (targets.some(({ state, sure }) => sure === false && state !== 'unknown'))
    paragraph(sheet, NOT_FOR_SURE, STYLE.note);
  if (missing.length > 0)
    paragraph(sheet, `Not known, and left out of the figures of the mix: ${gapsInWords(missing)}.`);
  if (withoutRange.length > 0)
    paragraph(sheet, `Taken as a point, since no range is known: ${gapsInWords(withoutRange)}.`);
}

/** As they are headed, with what each is a part of. */
const HEADED: readonly [name: MaterialFigure, title: string][] = [
  ['nitrogenPercentDry', 'Nitrogen, % dry'],
  ['carbonPercentDry', 'Carbon, % dry'],
  ['carbonToNitrogen', 'Carbon to nitrogen'],
  ['ashPercentDry', 'Ash, % dry'],
  ['moisturePercent', 'Moisture, % wet'],
  ['bulkDensityKgM3', 'Bulk density, kg/m³'],
];

const HOW_TO_READ =
  'In each box: the typical figure, under it the least and the most that were found, and the number of the source.';

/** One row a material; of each figure what is typical, the range under it, and its source. A figure of none has no column. */
function materials(sheet: Sheet, { materials }: MixFigures, notes: Notes): void {
  if (materials.length === 0) return;
  const columns: Column[] = [
    { title: 'Material', share: 1 },
    { ...kg('Mass'), width: 48 },
    ...HEADED.map(([, title]) => ({ title, width: 48 })),
  ];
  intro(sheet, HOW_TO_READ, STYLE.note);
  const known = HEADED.map(([name]) => materials.some((material) => material.figures[name] !== null));
  table(
    sheet,
    columns,
    materials.map((material) => ({
      cells: [
        nameOf(material),
        figure(material.massKg),
        ...HEADED.map(([name], index) => (known[index] ? valueOf(material.figures[name], notes) : '')),
      ],
    })),
  );
}

const nameOf = ({ name, estimatedKg }: MixMaterial): string =>
  estimatedKg === null || estimatedKg === 0
    ? sentence(name)
    : `${sentence(name)}\nof it estimated: ${withUnit(estimatedKg, 'kg')}`;

function valueOf(value: MaterialValue | null, notes: Notes): string {
  if (value === null) return NONE;
  const { typical, min, max } = value;
  const range = min === null && max === null ? [] : [rangeInWords({ min, max })];
  return [figure(typical), ...range, notes.mark([sourceOf(value)])].join('\n');
}

/** A source is told with how far its figure was checked: the same text twice, if two figures were not checked alike. */
function sourceOf({ source, verification, measuredOn }: MaterialValue): string {
  const measured = measuredOn === null ? '' : `, sampled on ${measuredOn}`;
  return `${source}${measured} (${CHECKED[verification]})`;
}

function cautions(sheet: Sheet, { cautions }: MixFigures, notes: Notes): void {
  if (cautions.length === 0) return;
  subheading(sheet, 'What these materials call for');
  bullets(
    sheet,
    cautions.map(({ text, source, materials }) => {
      const of = materials.length === 0 ? '' : `${sentence(materials.join('; '))}: `;
      return `${of}${text} ${notes.mark([source])}`;
    }),
  );
}
