import { pairs, table } from '../../pdf/table.js';
import { STYLE } from '../../pdf/look.js';
import type { Sheet } from '../../pdf/sheet.js';
import { paragraph, section, subheading } from '../../pdf/text.js';
import { asEntered, figure, plain, withUnit } from '../words.js';
import { kg } from './columns.js';
import { mix } from './mix.js';
import type { Writing } from './page.js';

export function inputs(writing: Writing): void {
  const { sheet, record } = writing;
  section(sheet, 'What went in', () => {
    materials(writing);
    origins(writing);
    amendments(writing);
    if (record.mix) mix(writing, record.mix);
  });
}

function materials({ sheet, record: { intake }, clock }: Writing): void {
  if (intake.dropOffs === 0) {
    paragraph(sheet, 'No drop-off has been assigned to this batch.');
    return;
  }
  const span = `between ${clock(intake.firstAt)} and ${clock(intake.lastAt)}`;
  paragraph(
    sheet,
    `From ${intake.dropOffs} drop-offs, ${span}. Estimated means taken by volume and a density.`,
  );
  table(
    sheet,
    [
      { title: 'Material', share: 1 },
      { title: 'Lots', align: 'figure', width: 30 },
      kg('Weighed'),
      kg('Estimated'),
      kg('Accepted'),
    ],
    [
      ...intake.materials.map(({ name, lots, weighedKg, estimatedKg, acceptedKg }) => ({
        cells: [name, ...[lots, weighedKg, estimatedKg, acceptedKg].map(figure)],
      })),
      {
        total: true,
        cells: [
          'Accepted',
          ...[intake.dropOffs, intake.weighedKg, intake.estimatedKg, intake.acceptedKg].map(figure),
        ],
      },
    ],
  );
  densities(
    sheet,
    intake.materials.flatMap(({ name, densitySources }) =>
      densitySources.map((source) => ({ name, source })),
    ),
  );
}

function origins({ sheet, record: { intake, jurisdictions } }: Writing): void {
  const sources = [
    {
      title: 'By hub',
      rows: intake.origins.map((hub) => ({ ...hub, name: `${hub.siteName} (${hub.siteCode})` })),
    },
    { title: 'By jurisdiction', rows: jurisdictions },
  ];
  for (const { title, rows } of sources) {
    if (rows.length === 0) continue;
    table(
      sheet,
      [{ title, share: 1 }, { title: 'Lots', align: 'figure', width: 30 }, kg('Accepted')],
      rows.map(({ name, lots, acceptedKg }) => ({ cells: [name, figure(lots), figure(acceptedKg)] })),
    );
  }
}

function amendments({ sheet, record: { intake }, clock }: Writing): void {
  if (intake.amendments.length === 0) return;
  subheading(sheet, 'Amendments, through no drop-off');
  table(
    sheet,
    [
      { title: 'When', width: 78 },
      { title: 'Material', share: 1 },
      { title: 'From', share: 1 },
      { title: 'Entered', width: 52 },
      { title: 'Basis', width: 50 },
      kg('Mass'),
    ],
    intake.amendments.map((amendment) => ({
      cells: [
        clock(amendment.occurredAt),
        amendment.name,
        amendment.fromBatch === null ? amendment.from : `${amendment.from} of ${amendment.fromBatch}`,
        asEntered(amendment.entered),
        amendment.basis === 'scale' ? 'weighed' : 'estimated',
        figure(amendment.massKg),
      ],
    })),
  );
  densities(
    sheet,
    intake.amendments.flatMap(({ name, densitySource }) =>
      densitySource === null ? [] : [{ name, source: densitySource }],
    ),
  );
}

/** An estimate is never printed without what it rests on. */
function densities(sheet: Sheet, list: readonly { name: string; source: string }[]): void {
  for (const { name, source } of list) {
    paragraph(sheet, `Density of ${name}: ${source}`, STYLE.note, { after: 0 });
  }
  if (list.length > 0) sheet.y += 8;
}

export function rejects({ sheet, record: { intake } }: Writing): void {
  section(sheet, 'Rejects and residue', () => {
    if (intake.rejects.length === 0) {
      paragraph(sheet, 'No reject and no residue is recorded.');
      return;
    }
    table(
      sheet,
      [
        { title: 'Contaminant', share: 1 },
        { title: 'Found in', width: 70 },
        { title: 'Went to', share: 0.8 },
        kg('Mass'),
      ],
      intake.rejects.map(({ contaminant, found, wentTo, massKg }) => ({
        cells: [plain(contaminant), found, plain(wentTo), figure(massKg)],
      })),
    );
    pairs(sheet, [
      ['Pulled at intake', withUnit(intake.pulledKg, 'kg')],
      ['Residue of the batch', withUnit(intake.residueKg, 'kg')],
    ]);
  });
}
