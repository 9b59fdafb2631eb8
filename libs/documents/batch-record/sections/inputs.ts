import { table, type Column } from '../../pdf/table.js';
import { Notes } from '../../pdf/notes.js';
import { intro, paragraph, section, subheading } from '../../pdf/text.js';
import type { AcceptedMaterial } from '../record-inputs.js';
import { asEntered, figure, plain, sentence, withUnit } from '../words.js';
import { kg, when } from './columns.js';
import { merges } from './merges.js';
import { mix } from './mix.js';
import type { Writing } from './page.js';

/** Where the density of an estimate comes from, by number. */
const DENSITY: Column = { title: 'Density', width: 40 };

export function inputs(writing: Writing): void {
  const { sheet, record } = writing;
  section(sheet, 'What went in', () => {
    const notes = new Notes();
    materials(writing, notes);
    origins(writing);
    amendments(writing, notes);
    merges(writing);
    if (record.mix) mix(writing, record.mix, notes);
    notes.print(sheet, 'Sources of the densities, ranges and figures above');
  });
}

type Masses = Pick<AcceptedMaterial, 'weighedKg' | 'sharedKg' | 'estimatedKg' | 'acceptedKg'>;

/** An estimate is never printed without what it rests on. */
function materials({ sheet, record: { intake }, clock }: Writing, notes: Notes): void {
  if (intake.dropOffs === 0) {
    paragraph(sheet, 'No drop-off has been assigned to this batch.');
    return;
  }
  const [first, last] = [clock(intake.firstAt), clock(intake.lastAt)];
  const span = first === last ? `on ${first}` : `between ${first} and ${last}`;
  const from = intake.dropOffs === 1 ? '1 drop-off' : `${intake.dropOffs} drop-offs`;
  const isShared = intake.sharedKg > 0;
  const shared = isShared ? ' Shared: weighed with the whole haul, and shared back by volume.' : '';
  intro(sheet, `From ${from}, ${span}. Estimated: by volume and density.${shared}`);
  const masses = (of: Masses) => [
    of.weighedKg,
    ...(isShared ? [of.sharedKg] : []),
    of.estimatedKg,
    of.acceptedKg,
  ];
  table(
    sheet,
    [
      { title: 'Material', share: 1 },
      { title: 'Lots', align: 'figure', width: 30 },
      kg('Weighed'),
      ...(isShared ? [kg('Shared')] : []),
      kg('Estimated'),
      kg('Accepted'),
      DENSITY,
    ],
    [
      ...intake.materials.map((material) => ({
        cells: [
          material.name,
          ...[material.lots, ...masses(material)].map(figure),
          notes.mark(material.densitySources),
        ],
      })),
      {
        total: true,
        cells: ['Accepted', ...[intake.dropOffs, ...masses(intake)].map(figure), ''],
      },
    ],
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

function amendments({ sheet, record: { intake }, clock }: Writing, notes: Notes): void {
  if (intake.amendments.length === 0) return;
  subheading(sheet, 'Amendments, through no drop-off');
  table(
    sheet,
    [
      when('When'),
      { title: 'Material', share: 1 },
      { title: 'From', width: 66 },
      { title: 'Entered', width: 40 },
      { ...kg('Mass'), width: 50 },
      { title: 'Basis, density', width: 64 },
    ],
    intake.amendments.map((amendment) => {
      const basis = amendment.basis === 'scale' ? 'weighed' : 'estimated';
      return {
        cells: [
          clock(amendment.occurredAt),
          amendment.name,
          amendment.fromBatch === null ? amendment.from : `${amendment.from} of ${amendment.fromBatch}`,
          asEntered(amendment.entered),
          figure(amendment.massKg),
          amendment.densitySource === null ? basis : `${basis} ${notes.mark([amendment.densitySource])}`,
        ],
      };
    }),
  );
}

export function rejects({ sheet, record: { intake } }: Writing): void {
  section(sheet, 'Rejects and residue', () => {
    if (intake.rejects.length === 0) {
      paragraph(sheet, 'No reject and no residue is recorded.');
      return;
    }
    const residue = withUnit(intake.residueKg, 'kg');
    intro(sheet, `Pulled at intake: ${withUnit(intake.pulledKg, 'kg')}. Residue of the batch: ${residue}.`);
    table(
      sheet,
      [
        { title: 'Contaminant', share: 1 },
        { title: 'Found in', width: 70 },
        { title: 'Went to', share: 0.8 },
        kg('Mass'),
      ],
      intake.rejects.map(({ contaminant, found, wentTo, massKg }) => ({
        cells: [sentence(plain(contaminant)), found, plain(wentTo), figure(massKg)],
      })),
    );
  });
}
