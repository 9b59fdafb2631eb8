import type { MixPart } from '../mix/figures.js';
import { mixOf } from '../mix/mix.js';
import { targetStanding } from '../mix/standing.js';
import type { Column, Gap } from './gap.js';
import { type Dose, dosesFor, volumeMlOf } from './measured.js';
import type { Addition, AdditionsAnswer, AdditionsQuestion } from './question.js';

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
  const doses = dosesFor(
    { ...gap, columns: used.map(({ column }) => column) },
    used.map(({ massG }) => massG),
    leastBy,
  );
  const amounts = used.flatMap(({ column, massG }, index) => {
    const dose = doses[index];
    return dose === undefined ? [] : [{ column, massG, dose }];
  });
  const additions = amounts.map(additionOf);
  const afterMeasured = mixOf([...parts, ...amounts.map(({ column, dose }) => partOf(column, dose))]);
  const costs = additions.flatMap(({ cost }) => cost ?? []);
  return {
    additions,
    after: mixOf([...parts, ...amounts.map(({ column, massG }) => partOf(column, { halves: null, massG }))]),
    afterMeasured,
    missedMeasured: gap.targets
      .filter((target) => targetStanding(target, afterMeasured).standing !== 'within')
      .map(({ figure }) => figure),
    cost: costs.length === 0 ? null : costs.reduce((total, cost) => total + cost, 0),
    costUnknown: additions.filter(({ cost }) => cost === null).map(({ materialCode }) => materialCode),
  };
}

function additionOf({ column, massG, dose }: { column: Column; massG: number; dose: Dose }): Addition {
  const { material, measure, costPerKg } = column;
  return {
    materialCode: material.code,
    massG,
    volumeMl: volumeMlOf(material, massG),
    isAll: massG === column.mostG,
    measured:
      measure === null || dose.halves === null
        ? null
        : { code: measure.code, halves: dose.halves, massG: dose.massG },
    cost: costPerKg === null ? null : (massG / 1000) * costPerKg,
  };
}

/** What is counted in containers is estimated, like everything that is told by its volume. */
function partOf({ material, measure }: Column, { halves, massG }: Dose): MixPart {
  if (measure === null || halves === null) return { material, massG, estimatedG: 0, estimatedMl: 0 };
  return { material, massG, estimatedG: massG, estimatedMl: (halves * measure.volumeMl) / 2 };
}
