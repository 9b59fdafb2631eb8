import type { MaterialFigures } from '../figures.js';
import type { MixTarget } from '../mix/targets.js';
import { type Column, linesOfGram, MOST_BATCHES } from './gap.js';
import type { AdditionsQuestion, Candidate, LeftOut } from './question.js';

/** The candidates that can be reckoned with and of which a gram is left. */
export function columnsOf(
  candidates: readonly Candidate[],
  targets: readonly MixTarget[],
): { columns: Column[]; leftOut: LeftOut[] } {
  const columns: Column[] = [];
  const leftOut: LeftOut[] = [];
  for (const { material, availableG, costPerKg, measure } of candidates) {
    const materialCode = material.code;
    const { lines, lacking } = linesOfGram(material, targets);
    const missing = lacking.map((figure) => ({ materialCode, figure }));
    const mostG = availableG === null ? null : Math.floor(availableG);
    if (missing.length > 0) leftOut.push({ materialCode, why: 'figures-unknown', missing });
    else if (mostG === 0) leftOut.push({ materialCode, why: 'none-left', missing });
    else columns.push({ material, mostG, costPerKg, measure, lines });
  }
  return { columns, leftOut };
}

/**
 * What could be got beyond the candidates: what there is too little of, and what else is obtainable. With what there is of
 * it, it must not be more than may be added of one material to a batch of `batchG`.
 */
export function furtherColumns(
  { candidates, obtainable }: AdditionsQuestion,
  targets: readonly MixTarget[],
  batchG: number,
): Column[] {
  const limited = candidates.flatMap(({ material, availableG }) =>
    availableG === null ? [] : [{ material, thereG: availableG }],
  );
  const listed = new Set(candidates.map(({ material }) => material.code));
  const others = obtainable
    .filter(({ code }) => !listed.has(code))
    .map((material) => ({ material, thereG: 0 }));
  return [...limited, ...others].flatMap(({ material, thereG }) =>
    columnUpTo(Math.max(0, MOST_BATCHES * batchG - thereG), material, targets),
  );
}

function columnUpTo(mostG: number, material: MaterialFigures, targets: readonly MixTarget[]): Column[] {
  const { lines, lacking } = linesOfGram(material, targets);
  if (lacking.length > 0) return [];
  return [{ material, mostG, costPerKg: null, measure: null, lines }];
}
