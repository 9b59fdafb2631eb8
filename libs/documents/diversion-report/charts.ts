import type { DivertedMasses, DiversionFigures } from '#libs/accounting';
import { Temporal } from 'temporal-polyfill';
import { type BarChart, barChart, type BarInput } from '../chart/bars.js';

/** Room for the plots of a report, in any one unit. */
export interface ChartRoom {
  months: { width: number; height: number };
  /** `lane` is the room for one name. */
  names: { width: number; lane: number };
}

/** A chart of names, the greatest first, with what each row is of. */
export interface NamesChart<Row> {
  chart: BarChart;
  rows: Row[];
  /** How many more there are than are drawn. */
  left: number;
}

export interface DiversionCharts {
  months: BarChart | null;
  materials: NamesChart<DiversionFigures['byMaterial'][number]> | null;
  sites: NamesChart<DiversionFigures['bySite'][number]> | null;
}

/** More names than this on one chart, and none is found. */
const MOST_NAMES = 40;
/** Of a period of more, only the months of which there is anything are drawn. */
const MOST_MONTHS = 36;

/**
 * Where everything of the charts of a report goes, for page and paper alike: accepted mass as a bar of what was weighed,
 * weighed with its haul and estimated, with a mark at what was diverted. A chart of nothing is null.
 */
export function diversionCharts(figures: DiversionFigures, room: ChartRoom): DiversionCharts {
  return {
    months: barChart({
      ...{ grows: 'up', ...room.months },
      bars: monthBars(figures.byMonth),
    }),
    materials: namesChart(figures.byMaterial, room),
    sites: namesChart(figures.bySite, room),
  };
}

/** A month of nothing keeps its place: without it, two that are far apart would stand side by side. */
function monthBars(byMonth: DiversionFigures['byMonth']): BarInput[] {
  const [first, last] = [byMonth[0]?.month, byMonth.at(-1)?.month];
  if (first === undefined || last === undefined) return [];
  const bars: BarInput[] = [];
  for (let at = Temporal.PlainYearMonth.from(first); bars.length < MOST_MONTHS; at = at.add({ months: 1 })) {
    const month = at.toString();
    const masses = byMonth.find((one) => one.month === month);
    bars.push(masses ? barOf(month, masses) : { label: month, parts: [0, 0, 0], mark: 0 });
    if (month >= last) return bars;
  }
  return byMonth.map((masses) => barOf(masses.month, masses));
}

function namesChart<Row extends DivertedMasses & { name: string }>(
  all: readonly Row[],
  { names: { width, lane } }: ChartRoom,
): NamesChart<Row> | null {
  const rows = all.toSorted((a, b) => b.acceptedKg - a.acceptedKg).slice(0, MOST_NAMES);
  const bars = rows.map((row) => barOf(row.name, row));
  const chart = barChart({ grows: 'right', width, height: lane * rows.length, bars });
  return chart && { chart, rows, left: all.length - rows.length };
}

const barOf = (label: string, masses: DivertedMasses): BarInput => ({
  label,
  parts: [masses.weighedKg, masses.sharedKg, masses.estimatedKg],
  mark: masses.divertedKg,
});
