import { type Column, type Gap, limitsOf, type Room } from './gap.js';
import { gramsAbove } from './least.js';
import { leastInTurn, type Solve } from './linear.js';
import { volumeMlOf } from './measured.js';
import type { AdditionsAnswer, Help } from './question.js';

/** More alternatives than that nobody reads. */
const MOST_HELPS = 6;

/**
 * What would make it possible: each material of `more` that alone does with what there is, the least of it first; or,
 * where none does, those that do together, the most first.
 */
export function helpOf(
  gap: Gap,
  more: readonly Column[],
  solve: Solve,
): Pick<AdditionsAnswer, 'wouldHelp' | 'together'> {
  const rooms = ['for rounding', 'exact'] as const;
  const room = rooms.find((one) => gramsWith(gap, more, solve, one) !== null);
  if (room === undefined) return { wouldHelp: [], together: [] };
  const alone = more
    .flatMap((column) => {
      const grams = gramsWith(gap, [column], solve, room);
      return grams === null ? [] : [{ column, massG: grams.at(-1) ?? 0 }];
    })
    .sort((a, b) => a.massG - b.massG)
    .slice(0, MOST_HELPS);
  if (alone.length > 0)
    return { wouldHelp: alone.map(({ column }) => helpBy(gap, column, solve, room)), together: [] };
  const all = gramsWith(gap, more, solve, room) ?? [];
  const together = more
    .map((column, index) => amountOf(column, all[gap.columns.length + index] ?? 0))
    .filter(({ massG }) => massG > 0)
    .sort((a, b) => b.massG - a.massG);
  return { wouldHelp: [], together };
}

function helpBy(gap: Gap, column: Column, solve: Solve, room: Room): Help {
  const grams = gramsWith(gap, [column], solve, room, 'then of all') ?? [];
  const alongside = gap.columns
    .map(({ material }, index) => ({ materialCode: material.code, massG: gramsAbove(grams[index] ?? 0) }))
    .filter(({ massG }) => massG > 0);
  return { ...amountOf(column, grams.at(-1) ?? 0), alongside };
}

/**
 * Grams of each column and then of each of `more`, with as little of `more` as will do, and then as little of all if that
 * is asked too; null where nothing will do.
 */
function gramsWith(
  gap: Gap,
  more: readonly Column[],
  solve: Solve,
  room: Room,
  least: 'of more' | 'then of all' = 'of more',
): number[] | null {
  const filled = { ...gap, columns: [...gap.columns, ...more] };
  const ofMore = filled.columns.map((_, index) => (index < gap.columns.length ? 0 : 1));
  const ofAll = filled.columns.map(() => 1);
  const weights = least === 'of more' ? [ofMore] : [ofMore, ofAll];
  return leastInTurn(weights, limitsOf(filled, room), solve)?.map((value) => value * gap.massG) ?? null;
}

function amountOf({ material }: Column, grams: number): Omit<Help, 'alongside'> {
  const massG = gramsAbove(grams);
  return { materialCode: material.code, massG, volumeMl: volumeMlOf(material, massG) };
}
