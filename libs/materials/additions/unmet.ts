import type { MixTarget } from '../mix/targets.js';
import { type Gap, figureAt, limitsOf, lineOf } from './gap.js';
import { dot, type Row, type Solve } from './linear.js';
import type { Unmet } from './question.js';

/**
 * Which targets cannot be met, and how near their figures come. What can be met together is settled in turn: what a permit
 * asks first, then in the order asked. So each that is named cannot be met beside those before it.
 */
export function unmetOf(gap: Gap, solve: Solve): Unmet[] {
  const order = [...gap.targets].sort((a, b) => Number(b.grade === 'permit') - Number(a.grade === 'permit'));
  const met: MixTarget[] = [];
  const unmet: MixTarget[] = [];
  for (const target of order) {
    const possible = isPossible({ ...gap, targets: [...met, target] }, solve);
    (possible ? met : unmet).push(target);
  }
  const kept = { ...gap, targets: met };
  return unmet.map((target) => ({
    target,
    nearest: nearestTo(target, kept, solve),
    kept: inTheWayOf(target, kept, solve),
  }));
}

/** None where it cannot be met by itself either. */
function inTheWayOf(target: MixTarget, gap: Gap, solve: Solve): readonly MixTarget[] {
  const isPossibleWith = (others: readonly MixTarget[]) =>
    isPossible({ ...gap, targets: [...others, target] }, solve);
  if (!isPossibleWith([])) return [];
  const each = gap.targets.filter((one) => isPossibleWith(gap.targets.filter((other) => other !== one)));
  return each.length > 0 ? each : gap.targets;
}

function isPossible(gap: Gap, solve: Solve): boolean {
  return solve({ least: gap.columns.map(() => 0), ...limitsOf(gap) }).status === 'optimal';
}

/** What a figure can be while the others are met lies in one piece: wholly below an unmet target, or wholly above it. */
function nearestTo(target: MixTarget, gap: Gap, solve: Solve): number | null {
  const most = extremeOf(target, gap, 'most', solve);
  const isBelow = most !== null && target.min !== null && most < target.min;
  return isBelow ? most : extremeOf(target, gap, 'least', solve);
}

/**
 * The least or most that a figure can be while the targets of `gap` are met; null where it has no end. above / below is not
 * linear, but it is once all masses are multiplied by a t that makes below = 1: so t is one unknown more, the last (Charnes
 * and Cooper, "Programming with linear fractional functionals", Naval Research Logistics 9 (1962), from memory).
 */
function extremeOf({ figure }: MixTarget, gap: Gap, end: 'least' | 'most', solve: Solve): number | null {
  const [batchAbove, batchBelow] = lineOf(gap.batch, figure);
  const lines = gap.columns.map((column) => lineOf(column.lines, figure));
  const above = [...lines.map((line) => (line[0] * gap.massG) / batchBelow), batchAbove / batchBelow];
  const below = [...lines.map((line) => (line[1] * gap.massG) / batchBelow), 1];
  const { most, rows } = limitsOf(gap);
  const stretched: Row[] = [
    ...rows.map(({ coefficients, atLeast }) => ({ coefficients: [...coefficients, -atLeast], atLeast: 0 })),
    ...most.map((limit, column) => ({
      coefficients: [...most.map((_, other) => (other === column ? -1 : 0)), limit],
      atLeast: 0,
    })),
    { coefficients: below, atLeast: 1 },
    { coefficients: below.map((value) => -value), atLeast: -1 },
  ];
  const size = Math.max(...above.map(Math.abs)) || 1;
  // Of air, the share that is none is least where the figure is most.
  const sign = (end === 'least') === (figure !== 'freeAirSpacePercent') ? 1 : -1;
  const least = above.map((value) => (sign * value) / size);
  const outcome = solve({ least, most: above.map(() => null), rows: stretched });
  return outcome.status === 'optimal' ? Math.max(0, figureAt(figure, dot(above, outcome.values))) : null;
}
