import { type Composition, compositionsOf, partsOf } from './composition.js';
import type { BatchLink, BatchWeb } from './flow.js';
import { grouped } from './grouped.js';

/** Overs, or all of a batch, that brought some of a source into another batch. */
export interface Way<L extends BatchLink = BatchLink> {
  readonly link: L;
  /** Of its mass, what is of the source. */
  readonly partG: number;
}

/** A batch that a source came to. Whole grams; a part may be nothing where less than half a gram came. */
export interface Reached<L extends BatchLink = BatchLink> {
  readonly batchId: string;
  /** 0 where it went in itself; else the fewest links from there. */
  readonly steps: number;
  readonly wholeG: number;
  readonly partG: number;
  readonly ways: readonly Way<L>[];
  readonly composition: Composition;
}

/**
 * Every batch that a source came to, however little of it, the nearest first and then in order of their ids. The web holds all
 * that leads into these batches. Throws as `compositionsOf`.
 */
export function reachedBy<L extends BatchLink>(web: BatchWeb<L>, sourceId: string): Reached<L>[] {
  const compositions = compositionsOf(web);
  const madeOf = (batchId: string): Composition => compositions.get(batchId) ?? new Map();
  const steps = stepsFrom(
    web.inputs.filter((input) => input.sourceId === sourceId).map(({ batchId }) => batchId),
    web.links,
  );
  const into = grouped(
    web.links.filter(({ fromBatchId }) => steps.has(fromBatchId)),
    ({ toBatchId }) => toBatchId,
  );
  const wayOf = (link: L): Way<L> => {
    const { fromBatchId, massG } = link;
    return { link, partG: partsOf(massG, madeOf(fromBatchId), fromBatchId).get(sourceId) ?? 0 };
  };
  return [...steps]
    .map(([batchId, away]) => {
      const composition = madeOf(batchId);
      const wholeG = [...composition.values()].reduce((sum, partG) => sum + partG, 0);
      const partG = composition.get(sourceId) ?? 0;
      return { batchId, steps: away, wholeG, partG, ways: (into.get(batchId) ?? []).map(wayOf), composition };
    })
    .toSorted((a, b) => a.steps - b.steps || (a.batchId < b.batchId ? -1 : 1));
}

/** The fewest links from any of the first batches, for each batch that links lead to. */
function stepsFrom(first: readonly string[], links: readonly BatchLink[]): ReadonlyMap<string, number> {
  const takers = grouped(links, ({ fromBatchId }) => fromBatchId);
  const steps = new Map(first.map((batchId) => [batchId, 0]));
  // A map grows while it is walked, in the order in which it grows.
  for (const [batchId, away] of steps) {
    for (const { toBatchId } of takers.get(batchId) ?? []) {
      if (!steps.has(toBatchId)) steps.set(toBatchId, away + 1);
    }
  }
  return steps;
}
