import { figure, NONE, plain, said, sentence } from '../../batch-record/words.js';
import { PAGE, STYLE } from '../../pdf/look.js';
import type { Sheet } from '../../pdf/sheet.js';
import { type Column, table } from '../../pdf/table.js';
import { subheading } from '../../pdf/text.js';
import type { Facility } from '../facility.js';
import { PLACE_WORDS } from '../words.js';

interface YardTable {
  title: string;
  columns: readonly Column[];
  rows: string[][];
}

/** Half as wide as the page: a figure far from its name is read into the wrong row. */
const NARROW = { place: { x: PAGE.left, width: 330 } };

const words = (title: string, share = 1): Column => ({ title, share });
const number = (title: string, width = 72): Column => ({ title, align: 'figure', width });
const kilograms = number('Mass, kg');
const litres = number('Volume, L');

/** Draws a table of everything there is; answers the titles of what there is nothing of. */
export function yardTables(sheet: Sheet, yard: Facility): string[] {
  const missing: string[] = [];
  for (const { title, columns, rows } of tablesOf(yard)) {
    if (rows.length === 0) {
      missing.push(title);
      continue;
    }
    subheading(sheet, title);
    table(
      sheet,
      columns,
      rows.map((cells) => ({ cells })),
      { style: STYLE.dense, ...(columns.length > 3 ? {} : NARROW) },
    );
  }
  return missing;
}

function tablesOf(yard: Facility): YardTable[] {
  const estimated = number('Of it estimated, kg', 88);
  const materials = (list: Facility['bulking']): string[][] =>
    list.map((one) => [one.name, figure(one.massKg), figure(one.estimatedKg)]);
  return [
    {
      title: 'Received by material',
      columns: [words('Material'), kilograms, estimated],
      rows: materials(yard.receivedByMaterial),
    },
    {
      title: 'Received by origin',
      columns: [words('Jurisdiction'), kilograms],
      rows: yard.receivedByOrigin.map(({ jurisdiction, massKg }) => [jurisdiction, figure(massKg)]),
    },
    {
      title: 'Bulking and other material of its own',
      columns: [words('Material'), kilograms, estimated],
      rows: materials(yard.bulking),
    },
    {
      title: 'On site when the period ended',
      columns: [words('Stage'), kilograms, litres],
      rows: yard.onSite.map(({ stage, massKg, volumeL }) => [
        sentence(stage),
        figure(massKg),
        figure(volumeL),
      ]),
    },
    {
      title: 'Compost distributed',
      columns: [words('Use'), words('To'), number('Times', 46), kilograms, litres],
      rows: yard.distributed.map((one) => [
        sentence(plain(one.use)),
        plain(one.recipient),
        figure(one.count),
        figure(one.massKg),
        figure(one.volumeL),
      ]),
    },
    {
      title: 'Residue',
      columns: [words('Went to'), kilograms],
      rows: yard.residue.map(({ wentTo, massKg }) => [PLACE_WORDS[wentTo] ?? plain(wentTo), figure(massKg)]),
    },
    ...evidenceOf(yard),
  ];
}

/** What shows that it was hot and clean, and what neighbours said. */
function evidenceOf(yard: Facility): YardTable[] {
  return [
    {
      title: 'Batches released, and what shows that they were hot',
      columns: [
        { title: 'Batch', width: 66 },
        { title: 'Released', width: 48 },
        words('Process rule', 1.2),
        { title: 'Verdict', width: 44 },
        number('Hours hot', 44),
        number('Turns', 30),
        words('Seal of its record', 1.3),
      ],
      rows: yard.releases.map(({ batch, releasedOn, rule, status, hotHours, turns, seal }) => [
        ...[batch, releasedOn, said(rule), status === null ? NONE : plain(status)],
        ...[figure(hotHours), figure(turns), seal],
      ]),
    },
    {
      title: 'Samples',
      columns: [words('Kind'), number('Passed', 60), number('Failed', 60), number('For information', 72)],
      rows: yard.samples.map(({ kind, passed, failed, information }) => [
        sentence(plain(kind)),
        ...[passed, failed, information].map(figure),
      ]),
    },
    {
      title: 'Complaints',
      columns: [
        { title: 'Day', width: 48 },
        { title: 'Kind', width: 50 },
        words('About'),
        words('What was done'),
      ],
      rows: yard.complaints.map(({ on, kind, about, done }) => [on, kind, about, said(done.join('\n'))]),
    },
  ];
}
