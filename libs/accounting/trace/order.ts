import type { BatchLink } from './flow.js';
import { grouped } from './grouped.js';

/**
 * Batches in an order in which each comes after all that gave to it (Kahn's algorithm): as many steps as there are batches
 * and links, however many generations. Throws RangeError where links lead round in a circle.
 */
export function givenFirst(batchIds: readonly string[], links: readonly BatchLink[]): string[] {
  const takers = grouped(links, ({ fromBatchId }) => fromBatchId);
  const awaited = new Map(batchIds.map((id) => [id, 0]));
  for (const { fromBatchId, toBatchId } of links) {
    awaited.set(fromBatchId, awaited.get(fromBatchId) ?? 0);
    awaited.set(toBatchId, (awaited.get(toBatchId) ?? 0) + 1);
  }
  const ordered = [...awaited].filter(([, givers]) => givers === 0).map(([id]) => id);
  // The list grows while it is walked.
  for (const id of ordered) {
    for (const { toBatchId } of takers.get(id) ?? []) {
      const left = (awaited.get(toBatchId) ?? 0) - 1;
      awaited.set(toBatchId, left);
      if (left === 0) ordered.push(toBatchId);
    }
  }
  if (ordered.length < awaited.size) throw new RangeError('batches that give to each other in a circle');
  return ordered;
}
