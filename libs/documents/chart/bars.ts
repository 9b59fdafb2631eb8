/** Plain data of one bar chart. `width` and `height` are of the plot area, in any one unit. */
export interface BarChartInput {
  /** Where the bars grow to: columns for a run of time, rows for names. */
  grows: 'up' | 'right';
  width: number;
  height: number;
  bars: readonly BarInput[];
}

/** Parts, zero or more, are put one on the other from zero on; the mark stands where its own value is, below zero too. */
export interface BarInput {
  label: string;
  parts: readonly number[];
  mark: number;
}

export interface Box {
  x: number;
  y: number;
  width: number;
  height: number;
}

/** A stroke across a bar. */
export interface Stroke {
  x1: number;
  y1: number;
  x2: number;
  y2: number;
}

/** Positions grow rightward and downward from the top left corner of the plot area. */
export interface BarChart {
  grows: 'up' | 'right';
  width: number;
  height: number;
  /** Where the value lies: a height where bars grow up, a place from the left where they grow right. */
  ticks: { at: number; value: number }[];
  zero: number;
  bars: {
    label: string;
    /** The middle of the bar, across the way it grows. */
    middle: number;
    /** How far it, and its mark, come. */
    end: number;
    /** One for each part, in order; of nothing, a box without extent. */
    parts: Box[];
    mark: Stroke;
  }[];
}

/** The part of its lane that a bar fills, and the part that its mark does. */
const BAR = 0.62;
const MARK = 0.9;
/** Steps that are easily counted on. */
const STEPS = [1, 2, 5, 10] as const;
const MOST_TICKS = 6;

/** Where everything of a bar chart goes. Null when there is no bar. */
export function barChart({ grows, width, height, bars }: BarChartInput): BarChart | null {
  if (bars.length === 0) return null;
  const ends = bars.map(({ parts, mark }) => Math.max(mark, sumOf(parts)));
  const least = bars.reduce((low, { mark }) => Math.min(low, mark), 0);
  const most = ends.reduce((high, end) => Math.max(high, end), 0);
  const values = ticksOf(least, most);
  const [low = 0, high = 1] = [values[0], values.at(-1)];

  const length = grows === 'up' ? height : width;
  const lane = (grows === 'up' ? width : height) / bars.length;
  const placeOf = (value: number): number => {
    const share = (value - low) / (high - low);
    return round((grows === 'up' ? 1 - share : share) * length);
  };
  return {
    ...{ grows, width, height },
    ticks: values.map((value) => ({ at: placeOf(value), value })),
    zero: placeOf(0),
    bars: bars.map(({ label, parts, mark }, index) => {
      const middle = round((index + 0.5) * lane);
      return {
        ...{ label, middle, end: placeOf(ends[index] ?? 0) },
        parts: parts.map((part, at) => {
          const from = sumOf(parts.slice(0, at));
          return boxOf(grows, middle, lane * BAR, placeOf(from), placeOf(from + part));
        }),
        mark: strokeOf(grows, middle, lane * MARK, placeOf(mark)),
      };
    }),
  };
}

/** Round values from at most the least to at least the most, both of which may be nothing; at most six steps. */
function ticksOf(least: number, most: number): number[] {
  const span = most - least > 0 ? most - least : 1;
  const power = 10 ** Math.floor(Math.log10(span / MOST_TICKS));
  const step = (STEPS.find((one) => span / MOST_TICKS <= one * power) ?? 10) * power;
  const first = Math.floor(least / step);
  const last = Math.max(Math.ceil(most / step), first + 1);
  // steps below one are no exact binary fractions: 3 * 0.1 would be printed as 0.30000000000000004
  return Array.from({ length: last - first + 1 }, (_unused, index) =>
    Number(((first + index) * step).toPrecision(12)),
  );
}

function boxOf(grows: 'up' | 'right', middle: number, breadth: number, from: number, to: number): Box {
  const across = round(middle - breadth / 2);
  const [start, extent] = [Math.min(from, to), round(Math.abs(to - from))];
  return grows === 'up'
    ? { x: across, y: start, width: round(breadth), height: extent }
    : { x: start, y: across, width: extent, height: round(breadth) };
}

function strokeOf(grows: 'up' | 'right', middle: number, breadth: number, at: number): Stroke {
  const [from, to] = [round(middle - breadth / 2), round(middle + breadth / 2)];
  return grows === 'up' ? { x1: from, y1: at, x2: to, y2: at } : { x1: at, y1: from, x2: at, y2: to };
}

const sumOf = (values: readonly number[]): number => values.reduce((sum, value) => sum + value, 0);

const round = (value: number): number => Math.round(value * 100) / 100;
