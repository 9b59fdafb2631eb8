import type { DivertedMasses, DiversionFigures } from '#libs/accounting';
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

/**
 * Where everything of the charts of a report goes, for page and paper alike: accepted mass as a bar of what was weighed,
 * weighed with its haul and estimated, with a mark at what was diverted. A chart of nothing is null.
 */
export function diversionCharts(figures: DiversionFigures, room: ChartRoom): DiversionCharts {
  return {
    months: barChart({
      ...{ grows: 'up', ...room.months },
      bars: figures.byMonth.map((month) => barOf(month.month, month)),
    }),
    materials: namesChart(figures.byMaterial, room),
    sites: namesChart(figures.bySite, room),
  };
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
