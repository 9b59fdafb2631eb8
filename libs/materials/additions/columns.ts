import type { MaterialFigures } from '../figures.js';
import type { MixTarget } from '../mix/targets.js';
import { type Column, linesOfGram } from './gap.js';
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

/** What could be got beyond the candidates: what there is too little of, and what else is obtainable. */
export function furtherColumns(
  { candidates, obtainable }: AdditionsQuestion,
  targets: readonly MixTarget[],
): Column[] {
  const limited = candidates.filter(({ availableG }) => availableG !== null).map(({ material }) => material);
  const listed = new Set(candidates.map(({ material }) => material.code));
  const others = obtainable.filter(({ code }) => !listed.has(code));
  return [...limited, ...others].flatMap((material) => columnWithoutEnd(material, targets) ?? []);
}

function columnWithoutEnd(material: MaterialFigures, targets: readonly MixTarget[]): Column | null {
  const { lines, lacking } = linesOfGram(material, targets);
  if (lacking.length > 0) return null;
  return { material, mostG: null, costPerKg: null, measure: null, lines };
}
