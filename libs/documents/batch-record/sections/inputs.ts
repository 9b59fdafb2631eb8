import { pairs, table } from '../../pdf/table.js';
import { STYLE } from '../../pdf/look.js';
import { paragraph, section, subheading } from '../../pdf/text.js';
import type { MixFigures, MixTarget } from '../record-inputs.js';
import { asEntered, figure, NONE, plain, said, sentence, withUnit } from '../words.js';
import type { Writing } from './page.js';

const kg = (title: string): { title: string; align: 'figure'; width: number } => ({
  title: `${title}, kg`,
  align: 'figure',
  width: 66,
});

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
  const densities = intake.materials.filter(({ densitySource }) => densitySource !== null);
  for (const { name, densitySource } of densities) {
    paragraph(sheet, `Density of ${name}: ${said(densitySource)}`, STYLE.note, { after: 0 });
  }
  if (densities.length > 0) sheet.y += 8;
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
}

const TARGET_NAMES: Record<MixTarget['figure'], string> = {
  carbonToNitrogen: 'Carbon to nitrogen',
  moisturePercent: 'Moisture, %',
  bulkDensityKgM3: 'Bulk density, kg/m³',
};

function mix({ sheet }: Writing, mix: MixFigures): void {
  subheading(sheet, 'The mix, computed from material figures');
  const known: Record<MixTarget['figure'], number> = {
    carbonToNitrogen: mix.knownCarbonToNitrogenPercent,
    moisturePercent: mix.knownMoisturePercent,
    bulkDensityKgM3: mix.knownBulkDensityPercent,
  };
  table(
    sheet,
    [
      { title: 'Figure', width: 96 },
      { title: 'This batch', align: 'figure', width: 54 },
      { title: 'Known for, % of mass', align: 'figure', width: 92 },
      { title: 'Target', width: 62 },
      { title: 'Standing and source', share: 1 },
    ],
    (Object.keys(TARGET_NAMES) as MixTarget['figure'][]).map((name) => {
      const target = mix.targets.find((candidate) => candidate.figure === name);
      return {
        cells: [
          TARGET_NAMES[name],
          figure(mix[name]),
          figure(known[name]),
          rangeOf(target),
          standingOf(target),
        ],
      };
    }),
  );
  pairs(sheet, [
    ['Mass of the mix', withUnit(mix.massKg, 'kg')],
    ['Volume', withUnit(mix.volumeL, 'L')],
  ]);
  if (mix.missing.length > 0) paragraph(sheet, `Without figures: ${mix.missing.join(', ')}.`);
  for (const source of mix.sources) paragraph(sheet, source, STYLE.note, { after: 0 });
}

const rangeOf = (target: MixTarget | undefined): string =>
  target ? `${figure(target.from)} to ${figure(target.to)}` : NONE;

const standingOf = (target: MixTarget | undefined): string =>
  target ? `${sentence(target.state)}. ${target.source}` : NONE;

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
        { title: 'Pieces', align: 'figure', width: 40 },
        kg('Mass'),
      ],
      intake.rejects.map(({ contaminant, found, wentTo, pieces, massKg }) => ({
        cells: [plain(contaminant), found, plain(wentTo), figure(pieces), figure(massKg)],
      })),
    );
    pairs(sheet, [
      ['Pulled at intake', withUnit(intake.pulledKg, 'kg')],
      ['Residue of the batch', withUnit(intake.residueKg, 'kg')],
    ]);
  });
}
