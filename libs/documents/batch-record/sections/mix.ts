import type { Notes } from '../../pdf/notes.js';
import type { Sheet } from '../../pdf/sheet.js';
import { pairs, table } from '../../pdf/table.js';
import { paragraph, subheading } from '../../pdf/text.js';
import type { MixFigure, MixFigures, MixTarget, Verification } from '../record-inputs.js';
import { figure, plain, sentence, withUnit } from '../words.js';
import { kg } from './columns.js';

const NAMES: Record<MixFigure, string> = {
  carbonToNitrogen: 'Carbon to nitrogen',
  moisturePercent: 'Moisture, %',
  bulkDensityKgM3: 'Bulk density, kg/m³',
};
/** What a mix may lack, as it is spoken. */
const LACKS: Record<string, string> = {
  nitrogenPercentDry: 'nitrogen',
  carbonToNitrogen: 'carbon to nitrogen',
  moisturePercent: 'moisture',
  bulkDensityKgM3: 'bulk density',
};
const FIGURES = Object.keys(NAMES) as MixFigure[];

export function mix(sheet: Sheet, mix: MixFigures, notes: Notes): void {
  subheading(sheet, 'The mix, computed from the figures of its materials');
  pairs(sheet, [
    ['Mass of the mix', withUnit(mix.massKg, 'kg')],
    ['Volume', withUnit(mix.volumeL, 'L')],
  ]);
  figures(sheet, mix, notes);
  materials(sheet, mix, notes);
  if (mix.missing.length === 0) return;
  const gaps = mix.missing
    .map((gap) => `${LACKS[gap.figure] ?? gap.figure} of ${plain(gap.material)}`)
    .join(', ');
  paragraph(sheet, `Not known, and left out of the figures of the mix: ${gaps}.`);
}

/** One row a figure, with every published range of it beside it. */
function figures(sheet: Sheet, mix: MixFigures, notes: Notes): void {
  const grades = [...new Set(mix.targets.map(({ grade }) => grade))];
  table(
    sheet,
    [
      { title: 'Figure', width: 96 },
      { title: 'This batch', align: 'figure', width: 48 },
      { title: 'Known for, % of mass', align: 'figure', width: 54 },
      ...grades.map((grade) => ({ title: `${sentence(grade)} range: this batch`, share: 1 })),
      { title: 'Source', width: 44 },
    ],
    FIGURES.map((name) => {
      const targets = mix.targets.filter((target) => target.figure === name);
      const ranges = grades.map((grade) => targets.filter((target) => target.grade === grade).map(range));
      return {
        cells: [
          NAMES[name],
          figure(mix[name]),
          figure(mix.knownMassPercent[name]),
          ...ranges.map((lines) => lines.join('\n')),
          notes.mark(targets.map(({ source }) => source)),
        ],
      };
    }),
  );
}

function range({ min, max, state }: MixTarget): string {
  const ends =
    min === null
      ? `up to ${figure(max)}`
      : max === null
        ? `from ${figure(min)}`
        : `${figure(min)} to ${figure(max)}`;
  return `${ends}: ${state}`;
}

const CHECKED: Record<Verification, string> = {
  verified: 'read in the source',
  mirror: 'read on a third-party copy',
  secondary: 'read where another text quotes it',
  'from-memory': 'from memory, not checked',
  derived: 'worked out, or judged',
  local: 'stated by the programme',
};

function materials(sheet: Sheet, { materials }: MixFigures, notes: Notes): void {
  if (materials.length === 0) return;
  table(
    sheet,
    [
      { title: 'Material', share: 1 },
      { ...kg('Mass'), width: 52 },
      { title: 'C:N', align: 'figure', width: 30 },
      { title: 'N, % dry', align: 'figure', width: 36 },
      { title: 'Moisture, %', align: 'figure', width: 48 },
      { title: 'kg/m³', align: 'figure', width: 32 },
      { title: 'Source; its weakest figure', share: 1.2 },
    ],
    materials.map((material) => ({
      cells: [
        sentence(material.name),
        figure(material.massKg),
        figure(material.carbonToNitrogen),
        figure(material.nitrogenPercentDry),
        figure(material.moisturePercent),
        figure(material.bulkDensityKgM3),
        `${notes.mark([material.source])} ${CHECKED[material.verification]}`,
      ],
    })),
  );
}
