import type { MixPart } from '../mix/figures.js';
import { mixOf } from '../mix/mix.js';
import type { Column, Gap } from './gap.js';
import { dosesFor, volumeMlOf } from './measured.js';
import type { Addition, AdditionsAnswer, AdditionsQuestion, Dose } from './question.js';

type Found = Pick<
  AdditionsAnswer,
  'additions' | 'after' | 'afterMeasured' | 'missedMeasured' | 'cost' | 'costUnknown'
>;

/** The answer, given the grams of each column: how to measure them out, and what that makes of the mix. The most first. */
export function foundWith(
  { parts, leastBy }: Pick<AdditionsQuestion, 'parts' | 'leastBy'>,
  gap: Gap,
  grams: readonly number[],
): Found {
  const used = gap.columns
    .map((column, index) => ({ column, massG: grams[index] ?? 0 }))
    .filter(({ massG }) => massG > 0)
    .sort((a, b) => b.massG - a.massG);
  const { doses, missed } = dosesFor(
    { ...gap, columns: used.map(({ column }) => column) },
    used.map(({ massG }) => massG),
    leastBy,
  );
  const amounts = used.flatMap(({ column, massG }, index) => {
    const dose = doses[index];
    return dose === undefined ? [] : [{ column, massG, dose }];
  });
  const additions = amounts.map(additionOf);
  const weighed = amounts.map(({ column: { material }, massG }) => ({ material, massG, ...NOT_ESTIMATED }));
  const costs = additions.flatMap(({ cost }) => cost ?? []);
  return {
    additions,
    after: mixOf([...parts, ...weighed]),
    afterMeasured: mixOf([...parts, ...amounts.map(({ column, dose }) => partOf(column, dose))]),
    missedMeasured: missed,
    cost: costs.length === 0 ? null : costs.reduce((total, cost) => total + cost, 0),
    costUnknown: additions.filter(({ cost }) => cost === null).map(({ materialCode }) => materialCode),
  };
}

function additionOf({ column, massG, dose }: { column: Column; massG: number; dose: Dose }): Addition {
  const { material, costPerKg } = column;
  return {
    materialCode: material.code,
    massG,
    volumeMl: volumeMlOf(material, massG),
    isAll: dose.by === 'all',
    dose,
    cost: costPerKg === null ? null : (massG / 1000) * costPerKg,
  };
}

const NOT_ESTIMATED = { estimatedG: 0, estimatedMl: 0 };

/** What is measured by its volume is estimated. Of none there is nothing to estimate. */
function partOf({ material }: Column, { by, massG, volumeMl }: Dose): MixPart {
  const isSeen = by === 'container' || by === 'volume';
  if (!isSeen || volumeMl === null || massG === 0) return { material, massG, ...NOT_ESTIMATED };
  return { material, massG, estimatedG: massG, estimatedMl: volumeMl };
}
