import { PAGE } from '../../pdf/look.js';
import { pairs, table } from '../../pdf/table.js';
import { paragraph, subheading } from '../../pdf/text.js';
import type { MixFigure, MixFigures } from '../record-inputs.js';
import { figure, plain, sentence, withUnit } from '../words.js';
import { kg } from './columns.js';
import type { Writing } from './page.js';

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

export function mix({ sheet }: Writing, mix: MixFigures): void {
  subheading(sheet, 'The mix, computed from the figures of its materials');
  table(
    sheet,
    [
      { title: 'Figure', width: 110 },
      { title: 'This batch', align: 'figure', width: 60 },
      { title: 'Known for, % of mass', align: 'figure', width: 96 },
    ],
    FIGURES.map((name) => ({
      cells: [NAMES[name], figure(mix[name]), figure(mix.knownMassPercent[name])],
    })),
    { place: { x: PAGE.left, width: 294 } },
  );
  targets(sheet, mix);
  pairs(sheet, [
    ['Mass of the mix', withUnit(mix.massKg, 'kg')],
    ['Volume', withUnit(mix.volumeL, 'L')],
  ]);
  materials(sheet, mix);
  if (mix.missing.length === 0) return;
  const gaps = mix.missing
    .map((gap) => `${LACKS[gap.figure] ?? gap.figure} of ${plain(gap.material)}`)
    .join(', ');
  paragraph(sheet, `Not known, and left out of the figures above: ${gaps}.`);
}

function targets(sheet: Writing['sheet'], { targets }: MixFigures): void {
  if (targets.length === 0) return;
  table(
    sheet,
    [
      { title: 'Published range', width: 110 },
      { title: 'From', align: 'figure', width: 36 },
      { title: 'To', align: 'figure', width: 36 },
      { title: 'Called', width: 60 },
      { title: 'This batch is', width: 60 },
      { title: 'Source', share: 1 },
    ],
    targets.map(({ figure: name, min, max, grade, state, source }) => ({
      cells: [NAMES[name], figure(min), figure(max), grade, state, source],
    })),
  );
}

function materials(sheet: Writing['sheet'], { materials }: MixFigures): void {
  if (materials.length === 0) return;
  table(
    sheet,
    [
      { title: 'Material', share: 1 },
      kg('Mass'),
      { title: 'C:N', align: 'figure', width: 32 },
      { title: 'N, % dry', align: 'figure', width: 40 },
      { title: 'Moisture, %', align: 'figure', width: 50 },
      { title: 'kg/m³', align: 'figure', width: 36 },
      { title: 'Source of its figures', share: 1.3 },
    ],
    materials.map((material) => ({
      cells: [
        sentence(material.name),
        figure(material.massKg),
        figure(material.carbonToNitrogen),
        figure(material.nitrogenPercentDry),
        figure(material.moisturePercent),
        figure(material.bulkDensityKgM3),
        material.source,
      ],
    })),
  );
}
