import { mixOf } from '../mix/mix.js';
import { targetStanding } from '../mix/standing.js';
import { columnsOf, furtherColumns } from './columns.js';
import { foundWith } from './found.js';
import { type Gap, linesOfBatch } from './gap.js';
import { leastGrams } from './least.js';
import type { Solve } from './linear.js';
import { helpOf } from './more.js';
import type { AdditionsAnswer, AdditionsQuestion } from './question.js';
import { leavesNothing, requireSound } from './sound.js';
import { unmetOf } from './unmet.js';

/**
 * The least of what there is that brings every target of a batch into range, as a linear problem: each figure of a mix is
 * one sum over another, so each end of a target is a row that is linear in the masses (`gap.ts`). Reckoned with typical
 * figures, and with what is known of the batch. One code stands for one set of figures, in the batch and beside it.
 * Throws RangeError on figures, masses, targets, costs and containers that cannot be.
 */
export function additionsFor(question: AdditionsQuestion, solve: Solve): AdditionsAnswer {
  requireSound(question);
  const { parts, leastBy } = question;
  const nothing = question.targets.filter(leavesNothing);
  if (nothing.length > 0)
    return answer('contradictory', { unmet: nothing.map((target) => ({ target, nearest: null, kept: [] })) });

  const before = mixOf(parts);
  const targets = question.targets.filter(({ figure }) => before.value[figure] !== null);
  const asked = {
    notJudged: question.targets.map(({ figure }) => figure).filter((figure) => before.value[figure] === null),
  };
  if (before.massG === 0 || (targets.length === 0 && question.targets.length > 0))
    return answer('unknown', asked);
  if (targets.every((target) => targetStanding(target, before).standing === 'within'))
    return answer('in-range', { ...asked, after: before, afterMeasured: before });

  const { columns, leftOut } = columnsOf(question.candidates, targets);
  const gap: Gap = { massG: before.massG, targets, batch: linesOfBatch(parts, targets), columns };
  const grams = leastGrams(gap, leastBy, solve);
  if (grams !== null) return answer('found', { ...asked, leftOut, ...foundWith(question, gap, grams) });
  const further = furtherColumns(question, targets, before.massG);
  const help = helpOf(gap, further, solve);
  const isBeyondHelp = help.wouldHelp.length + help.together.length === 0;
  const widest = isBeyondHelp ? { ...gap, columns: [...gap.columns, ...further] } : gap;
  return answer('impossible', { ...asked, leftOut, unmet: unmetOf(widest, solve), ...help });
}

function answer(
  state: AdditionsAnswer['state'],
  known: Partial<Omit<AdditionsAnswer, 'state'>>,
): AdditionsAnswer {
  return {
    state,
    additions: [],
    after: null,
    afterMeasured: null,
    missedMeasured: [],
    cost: null,
    costUnknown: [],
    unmet: [],
    wouldHelp: [],
    together: [],
    leftOut: [],
    notJudged: [],
    ...known,
  };
}
