import { kgOf } from '#libs/quantities';
import { CLOCKS_APART_MS } from '../http/dto/time.js';
import { invalid } from '../http/problems/catalogue.js';
import type { LotRow, LotStep } from './drop-offs.records.js';
import type { LotFacts, Warning } from './lot.js';

/** A correction dates nothing to later than what was done with it: refused (422) unless it is as early as it was. */
export function requireBeforeSteps(
  { occurredAt }: Pick<LotFacts, 'occurredAt'>,
  now: Pick<LotRow, 'occurredAt'>,
  steps: readonly LotStep[],
): void {
  const [first] = steps;
  if (!first || occurredAt <= now.occurredAt) return;
  if (occurredAt.getTime() <= first.at.getTime() + CLOCKS_APART_MS) return;
  const what = first.batch === null ? 'left with its haul' : `was put into batch ${first.batch}`;
  throw invalid('/occurredAt', `is later than it ${what}, at ${first.at.toISOString()}`);
}

/**
 * What a correction adds to a lot that is in batches is in none of them: nobody said that it went in, and once a batch is
 * built it takes nothing more. So it waits, and somebody has to be told.
 */
export function leftOverWarnings(
  { acceptedG }: Pick<LotFacts, 'acceptedG'>,
  now: Pick<LotRow, 'acceptedG' | 'assignedG'>,
  steps: readonly LotStep[],
  site: string,
): Warning[] {
  const batches = steps.filter(({ batch }) => batch !== null);
  const isOpen = batches.some(({ stage }) => stage === 'building');
  if (batches.length === 0 || isOpen || acceptedG <= now.acceptedG) return [];
  const names = batches.map(({ batch }) => batch).join(', ');
  const text =
    `${kgOf(acceptedG - now.assignedG)} kg of it now wait at ${site}: ${kgOf(now.assignedG)} kg are in ${names}, which ` +
    'takes no more. Put them into another batch if they lie there; if not, tell them as pulled or correct the lot again.';
  return [{ code: 'left-over', text }];
}
