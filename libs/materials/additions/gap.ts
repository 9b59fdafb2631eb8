import type { MaterialFigure, MaterialFigures } from '../figures.js';
import type { MixFigure, MixPart } from '../mix/figures.js';
import type { MixTarget } from '../mix/targets.js';
import { type Choice, termOf } from '../mix/terms.js';
import type { Row } from './linear.js';
import type { Measure } from './question.js';

/** More of a material than a hundred batches is no answer, and a number that a solver keeps less exactly. */
export const MOST_BATCHES = 100;

/** What is put above and below the line of each figure that has a target. */
export type Lines = ReadonlyMap<MixFigure, Choice>;

/** A material that may be added. */
export interface Column {
  readonly material: MaterialFigures;
  /** Null where nothing limits it; whole grams of what lies at the yard. */
  readonly mostG: number | null;
  readonly costPerKg: number | null;
  readonly measure: Measure | null;
  /** Of one gram. */
  readonly lines: Lines;
}

/** A batch, the targets it is to meet, and what may be added to it. */
export interface Gap {
  readonly massG: number;
  readonly targets: readonly MixTarget[];
  readonly batch: Lines;
  readonly columns: readonly Column[];
}

/** Parts of which a figure is unknown count for nothing in it, as in the mix itself. */
export function linesOfBatch(parts: readonly MixPart[], targets: readonly MixTarget[]): Lines {
  return new Map(
    targets.map(({ figure }) => {
      const terms = parts.map((part) => termOf(figure, part));
      return [figure, plus(terms.map((term) => ('lacking' in term ? nothing : term.typical)))];
    }),
  );
}

/** Of a gram of a material; or what would have to be known of it. */
export function linesOfGram(
  material: MaterialFigures,
  targets: readonly MixTarget[],
): { lines: Lines; lacking: readonly MaterialFigure[] } {
  const terms = targets.map(({ figure }) =>
    termOf(figure, { material, massG: 1, estimatedG: 0, estimatedMl: 0 }),
  );
  const lacking = terms.flatMap((term) => ('lacking' in term ? term.lacking : []));
  const lines = targets.map(({ figure }, index): [MixFigure, Choice] => {
    const term = terms[index];
    return [figure, term === undefined || 'lacking' in term ? nothing : term.typical];
  });
  return { lines: new Map(lines), lacking: [...new Set(lacking)] };
}

/**
 * The target as a range of above / below. Of air the share that is none is above, so its ends change places; there is never
 * less than none, so a least of 0 asks for nothing.
 */
function endsOf({ figure, min, max }: MixTarget): { min: number | null; max: number | null } {
  if (figure !== 'freeAirSpacePercent') return { min, max };
  return {
    min: max === null ? null : 1 - max / 100,
    max: min === null || min <= 0 ? null : 1 - min / 100,
  };
}

/** The figure, given above / below; of air it goes on below nothing, so that more that fills it can be told from less. */
export function figureAt(figure: MixFigure, ratio: number): number {
  return figure === 'freeAirSpacePercent' ? 100 * (1 - ratio) : ratio;
}

/**
 * What every target asks of the additions, counted in masses of the batch. `min ≤ above / below` is
 * `above − min × below ≥ 0`, a sum over the parts, since `below` is never less than 0; `max` likewise. Each row is divided
 * by its largest number, so that the solver's tolerance means the same in all.
 */
function rowsOf({ massG, targets, batch, columns }: Gap): Row[] {
  return targets.flatMap((target) => {
    const { min, max } = endsOf(target);
    const spares: ((choice: Choice) => number)[] = [];
    if (min !== null) spares.push(([above, below]) => above - min * below);
    if (max !== null) spares.push(([above, below]) => max * below - above);
    return spares.map((spareOf) => {
      const coefficients = columns.map(({ lines }) => spareOf(lineOf(lines, target.figure)));
      const atLeast = -spareOf(lineOf(batch, target.figure)) / massG;
      const size = Math.max(Math.abs(atLeast), ...coefficients.map(Math.abs)) || 1;
      return { coefficients: coefficients.map((value) => value / size), atLeast: atLeast / size };
    });
  });
}

export type Room = 'exact' | 'for rounding';

/**
 * What the additions may be, counted in masses of the batch. With room for rounding, every row is kept by as much more as
 * its most telling material changes it by a gram a row: no more columns than rows are neither at none nor at their most.
 */
export function limitsOf(gap: Gap, room: Room = 'exact'): { most: number[]; rows: Row[] } {
  const most = gap.columns.map(({ mostG }) => Math.min(MOST_BATCHES, (mostG ?? Infinity) / gap.massG));
  const rows = rowsOf(gap);
  if (room === 'exact') return { most, rows };
  const roomy = rows.map(({ coefficients, atLeast }) => ({
    coefficients,
    atLeast: atLeast + (rows.length / gap.massG) * Math.max(0, ...coefficients.map(Math.abs)),
  }));
  return { most, rows: roomy };
}

/** By how much each target is missed with so many grams of each column added, as a part of it; 0 where it is met. */
export function missesOf({ targets, batch, columns }: Gap, grams: readonly number[]): number[] {
  return targets.map((target) => {
    const { figure } = target;
    const added = columns.map(({ lines }, index) => times(lineOf(lines, figure), grams[index] ?? 0));
    const [above, below] = plus([lineOf(batch, figure), ...added]);
    return below > 0 ? missOf(target, figureAt(figure, above / below)) : 1;
  });
}

function missOf({ min, max }: MixTarget, value: number): number {
  const short = min === null || min <= 0 ? 0 : (min - value) / Math.max(1, Math.abs(min));
  const beyond = max === null ? 0 : (value - max) / Math.max(1, Math.abs(max));
  return Math.max(0, short, beyond);
}

export function lineOf(lines: Lines, figure: MixFigure): Choice {
  return lines.get(figure) ?? nothing;
}

const nothing: Choice = [0, 0];

function times([above, below]: Choice, massG: number): Choice {
  return [above * massG, below * massG];
}

function plus(choices: readonly Choice[]): Choice {
  return choices.reduce<Choice>((total, [above, below]) => [total[0] + above, total[1] + below], nothing);
}
