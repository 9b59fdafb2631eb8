import { type Column, type Gap, limitsOf, type Room } from './gap.js';
import { gramsAbove } from './least.js';
import { leastInTurn, type Solve } from './linear.js';
import { dosesFor, volumeMlOf } from './measured.js';
import type { AdditionsAnswer, Help } from './question.js';
import { usualFirst } from './usual.js';

/**
 * What would make it possible: each material of `more` that alone does with what there is, in the order of `usualFirst`; or,
 * where none does, those that do together, the most first. Neither where nothing does.
 */
export function helpOf(
  gap: Gap,
  more: readonly Column[],
  solve: Solve,
): Pick<AdditionsAnswer, 'wouldHelp' | 'together'> {
  const rooms = ['for rounding', 'exact'] as const;
  const room = rooms.find((one) => gramsWith(gap, more, solve, one) !== null);
  if (room === undefined) return { wouldHelp: [], together: [] };
  const wouldHelp = more.flatMap((column) => helpBy(gap, column, solve, room)).sort(usualFirst);
  if (wouldHelp.length > 0) return { wouldHelp, together: [] };
  const all = gramsWith(gap, more, solve, room) ?? [];
  const together = more
    .map((column, index) => amountOf(column, all[gap.columns.length + index] ?? 0))
    .filter(({ massG }) => massG > 0)
    .sort((a, b) => b.massG - a.massG);
  return { wouldHelp: [], together };
}

/** With as little of it as will do; none where it alone does not. What is told is rounded up as it is measured out, together. */
function helpBy(gap: Gap, column: Column, solve: Solve, room: Room): Help[] {
  const solved = gramsWith(gap, [column], solve, room, 'then of all');
  if (solved === null) return [];
  const columns = [...gap.columns, column].map((one) => ({ ...one, measure: null }));
  const used = columns
    .map((one, index) => ({ one, massG: gramsAbove(solved[index] ?? 0) }))
    .filter(({ massG }, index) => massG > 0 || index === columns.length - 1);
  const { doses } = dosesFor(
    { ...gap, columns: used.map(({ one }) => one) },
    used.map(({ massG }) => massG),
    'mass',
  );
  const portions = used.flatMap(({ one, massG }, index) => {
    const dose = doses[index];
    return dose === undefined ? [] : [{ materialCode: one.material.code, massG, dose }];
  });
  const own = portions.at(-1);
  return own === undefined
    ? []
    : [{ ...own, volumeMl: volumeMlOf(column.material, own.massG), alongside: portions.slice(0, -1) }];
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

function amountOf({ material }: Column, grams: number): AdditionsAnswer['together'][number] {
  const massG = gramsAbove(grams);
  return { materialCode: material.code, massG, volumeMl: volumeMlOf(material, massG) };
}
