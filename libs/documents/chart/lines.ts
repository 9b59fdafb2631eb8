export interface Sample {
  at: number;
  temperatureC: number;
}

export interface Point {
  x: number;
  y: number;
}

/** One probe position: its line as SVG path data, and the points worth a mark of their own. */
export interface Line {
  position: string;
  path: string;
  /** Every reading of a sparse line; of a dense one only readings that no line touches. */
  points: Point[];
  end: Point;
}

interface Scale {
  xOf: (at: number) => number;
  yOf: (temperatureC: number) => number;
  breakAfterMs: number;
}

/** More readings than this on one line, and marks would hide it. */
const MARKED_READINGS = 60;

export function linesOf(samples: ReadonlyMap<string, readonly Sample[]>, scale: Scale): Line[] {
  return [...samples].map(([position, readings]) => {
    const runs = runsOf(readings, scale.breakAfterMs).map((run) =>
      run.map((sample) => pointOf(sample, scale)),
    );
    const sparse = readings.length <= MARKED_READINGS;
    const points = sparse ? runs.flat() : runs.filter((run) => run.length === 1).flat();
    const path = runs
      .filter((run) => run.length > 1)
      .map((run) => pathOf(thin(run)))
      .join('');
    return { position, path, points, end: runs.at(-1)?.at(-1) ?? { x: 0, y: 0 } };
  });
}

/** Positions for labels near the wanted ones, in the same order, `gap` apart and within 0 to `height`. */
export function spreadLabels(wanted: readonly number[], gap: number, height: number): number[] {
  const order = wanted.map((y, index) => ({ y, index })).sort((a, b) => a.y - b.y || a.index - b.index);
  let free = -Infinity;
  for (const label of order) free = label.y = Math.max(label.y, free + gap);
  let limit = height;
  for (const label of order.toReversed()) {
    label.y = Math.min(label.y, limit);
    limit = label.y - gap;
  }
  const spread = wanted.slice();
  for (const { y, index } of order) spread[index] = Math.round(y * 100) / 100;
  return spread;
}

const pointOf = (sample: Sample, { xOf, yOf }: Scale): Point => ({
  x: xOf(sample.at),
  y: yOf(sample.temperatureC),
});

function runsOf(readings: readonly Sample[], breakAfterMs: number): Sample[][] {
  const runs: Sample[][] = [];
  let before = -Infinity;
  for (const reading of readings) {
    const run = runs.at(-1);
    if (run && reading.at - before <= breakAfterMs) run.push(reading);
    else runs.push([reading]);
    before = reading.at;
  }
  return runs;
}

/**
 * At most four points a unit of width: the first, the highest, the lowest and the last, in order of time. The
 * drawn line covers the same ground as the full one, and no peak or dip is lost.
 */
function thin(run: readonly Point[]): Point[] {
  const kept: Point[] = [];
  for (let start = 0; start < run.length;) {
    let end = start;
    while (end < run.length && column(run[end]) === column(run[start])) end += 1;
    const crowd = run.slice(start, end);
    kept.push(...(crowd.length <= 4 ? crowd : extremes(crowd)));
    start = end;
  }
  return kept;
}

const column = (point: Point | undefined): number => Math.floor(point?.x ?? 0);

function extremes(crowd: readonly Point[]): Point[] {
  let top = 0;
  let bottom = 0;
  crowd.forEach((point, index) => {
    if (point.y < (crowd[top]?.y ?? 0)) top = index;
    if (point.y > (crowd[bottom]?.y ?? 0)) bottom = index;
  });
  const kept = new Set([0, Math.min(top, bottom), Math.max(top, bottom), crowd.length - 1]);
  return crowd.filter((_point, index) => kept.has(index));
}

const pathOf = (run: readonly Point[]): string =>
  run.map(({ x, y }, index) => `${index === 0 ? 'M' : 'L'}${x} ${y}`).join('');
