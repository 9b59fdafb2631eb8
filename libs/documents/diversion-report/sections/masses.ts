import type { DivertedMasses } from '#libs/accounting';
import { figure, NONE } from '../../batch-record/words.js';
import type { BarChart } from '../../chart/bars.js';
import { type BarWords, drawBarChart, heightOfBars, plotOf } from '../../pdf/bar-chart.js';
import { STYLE } from '../../pdf/look.js';
import { type Column, table } from '../../pdf/table.js';
import { paragraph, section, subheading } from '../../pdf/text.js';
import { type ChartRoom, diversionCharts, type NamesChart } from '../charts.js';
import { BASIS_WORDS } from '../words.js';
import type { Writing } from './page.js';

const ROOM: ChartRoom = {
  months: plotOf('up', 150),
  names: { ...plotOf('right', 0), lane: 11.6 },
};

const MARK = 'kept out of landfill';

const WORDS = { parts: Object.values(BASIS_WORDS), mark: MARK, unit: 'kg' } satisfies Partial<BarWords>;

export function byMonth({ sheet, report: { figures } }: Writing): void {
  const { months } = diversionCharts(figures, ROOM);
  section(sheet, 'By month', () => {
    if (months === null) {
      paragraph(sheet, 'No movement fell in this period.');
      return;
    }
    const rows = months.bars.map(({ label }) => figures.byMonth.find(({ month }) => month === label));
    drawBarChart(sheet, months, { ...WORDS, alt: inPlaceOf('each month', months, rows) });
    massTables(
      sheet,
      'Month',
      figures.byMonth.map((one) => ({ name: one.month, ...one })),
      figures.total,
    );
  });
}

export function byMaterial({ sheet, report: { figures } }: Writing): void {
  const { materials } = diversionCharts(figures, ROOM);
  if (materials === null) return;
  section(sheet, 'By material', () => {
    drawNames(sheet, 'each material', materials);
    massTables(sheet, 'Material', figures.byMaterial, figures.total);
  });
}

export function bySite({ sheet, report: { figures } }: Writing): void {
  const { sites } = diversionCharts(figures, ROOM);
  if (sites === null) return;
  section(sheet, 'By site', () => {
    const rows = figures.bySite.map((site) => ({ ...site, name: `${site.code}  ${site.name}` }));
    // of many sites the chart fills a page: where it does not fit, the tables fill this one before it
    const chartFirst = sheet.fits(heightOfBars(sites.chart));
    if (chartFirst) drawNames(sheet, 'each site', sites);
    massTables(sheet, 'Site', rows, figures.total);
    if (!chartFirst) drawNames(sheet, 'each site', sites);
  });
}

type Named = DivertedMasses & { name: string };

function drawNames<Row extends Named>(sheet: Writing['sheet'], of: string, names: NamesChart<Row>): void {
  const { chart, rows, left } = names;
  const digits = rows.map(({ divertedKg }) => figure(divertedKg));
  drawBarChart(sheet, chart, {
    ...WORDS,
    alt: inPlaceOf(of, chart, rows),
    values: { title: 'diverted, kg', digits },
  });
  if (left > 0) paragraph(sheet, `${figure(left)} more, all smaller, are in the table only.`, STYLE.note);
}

/** The chart for those who do not see it. */
function inPlaceOf(of: string, { bars }: BarChart, rows: readonly (DivertedMasses | undefined)[]): string {
  const said = bars.map(({ label }, index) => {
    const row = rows[index];
    return row ? `${label}: ${figure(row.acceptedKg)}, ${figure(row.divertedKg)}` : `${label}: nothing`;
  });
  return (
    `Bars of the mass accepted of ${of} in kilograms, parted into ${WORDS.parts.join(', ')}, each with a mark at what was ` +
    `${MARK}. Accepted, and kept out: ${said.join('; ')}. All of it is in the tables of this section.`
  );
}

const kilograms = (title: string, width: number): Column => ({
  title: `${title}, kg`,
  align: 'figure',
  width,
});

/** What a municipality asks first, and below how it was measured and what was taken out: ten figures fit no one page. */
function massTables(
  sheet: Writing['sheet'],
  title: string,
  rows: readonly Named[],
  total: DivertedMasses,
): void {
  const all = [...rows.map((row) => ({ row, name: row.name })), { row: total, name: 'Total' }];
  const cellsOf = (figures: (row: DivertedMasses) => number[]) =>
    all.map(({ row, name }) => ({
      cells: [name === '' ? NONE : name, ...figures(row).map(figure)],
      ...(row === total ? { total: true } : {}),
    }));
  subheading(sheet, 'Accepted and diverted');
  table(
    sheet,
    [
      { title, share: 1 },
      { title: 'Drop-offs', align: 'figure', width: 46 },
      kilograms('Accepted', 70),
      kilograms('Residue to landfill', 92),
      kilograms('Diverted', 70),
    ],
    cellsOf((row) => [row.lots, row.acceptedKg, row.landfilledKg, row.divertedKg]),
    { style: STYLE.dense, pad: 1.6 },
  );
  subheading(sheet, 'How it was measured, and what was taken out');
  const narrow = (name: string): Column => kilograms(name, 48);
  table(
    sheet,
    [
      { title, share: 1 },
      ...['Weighed', 'With its haul', 'Estimated', 'Pulled', 'Residue', 'Sent on'].map(narrow),
    ],
    cellsOf((row) => [
      row.weighedKg,
      row.sharedKg,
      row.estimatedKg,
      row.pulledKg,
      row.residueKg,
      row.elsewhereKg,
    ]),
    { style: STYLE.dense, pad: 1.6 },
  );
}
