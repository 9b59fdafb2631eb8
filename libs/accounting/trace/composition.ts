import { splitByLargestRemainder } from '#libs/quantities';
import type { BatchLink, BatchWeb } from './flow.js';
import { grouped } from './grouped.js';
import { givenFirst } from './order.js';

/** Grams by source, in order of the source's id, so that ties fall alike however much of a web was read. */
export type Composition = ReadonlyMap<string, number>;

/**
 * Of what each batch of a web is made: grams by source, whole, and together all that went into it, water left out. A batch is
 * taken to be mixed evenly, by wet mass as it went in: overs of it, or all of it put into another, are parted over what it
 * is made of by the largest remainder. A part of less than half a gram may thus come to nothing; that a batch is led to
 * at all is for `links` to say.
 *
 * Of a batch that gives and has no recorded source (`batchSource` of it) is all that is known.
 * Throws RangeError on a mass that is not whole and zero or more, and where links lead round in a circle.
 */
export function compositionsOf(web: BatchWeb): ReadonlyMap<string, Composition> {
  const made = new Map<string, Map<string, number>>();
  const madeOf = (batchId: string): Map<string, number> => {
    const known = made.get(batchId) ?? new Map<string, number>();
    made.set(batchId, known);
    return known;
  };
  for (const { batchId, sourceId, massG } of web.inputs) addTo(madeOf(batchId), sourceId, massG);
  const linksFrom = grouped(web.links, ({ fromBatchId }) => fromBatchId);
  const complete = new Map<string, Composition>();
  for (const batchId of givenFirst([...made.keys()], web.links)) {
    const composition = inOrder(madeOf(batchId));
    complete.set(batchId, composition);
    for (const { toBatchId, massG } of linksFrom.get(batchId) ?? []) {
      const taker = madeOf(toBatchId);
      for (const [sourceId, partG] of partsOf(massG, composition, batchId)) addTo(taker, sourceId, partG);
    }
  }
  return complete;
}

/**
 * A mass out of a batch, parted over what the batch is made of: whole grams that make up the mass; sources that come to
 * less than a gram may be left out. Of a batch with no recorded source all of it falls to the batch itself.
 */
export function partsOf(massG: number, composition: Composition, batchId: string): Composition {
  const weights = [...composition.values()];
  if (weights.every((weight) => weight === 0)) return new Map([[batchSource(batchId), massG]]);
  const parts = splitByLargestRemainder(massG, weights);
  const named = [...composition.keys()].map((sourceId, index) => [sourceId, parts[index] ?? 0] as const);
  return new Map(named.filter(([, partG]) => partG > 0));
}

/** The same web as seen from one batch: what it was made of is no matter, it is a source itself. */
export function fromBatch<L extends BatchLink>(web: BatchWeb<L>, batchId: string): BatchWeb<L> {
  const into = [
    ...web.inputs.filter((input) => input.batchId === batchId),
    ...web.links.filter((link) => link.toBatchId === batchId),
  ];
  const massG = into.reduce((sum, { massG }) => sum + massG, 0);
  return {
    inputs: [
      ...web.inputs.filter((input) => input.batchId !== batchId),
      { batchId, sourceId: batchSource(batchId), massG },
    ],
    links: web.links.filter((link) => link.toBatchId !== batchId),
  };
}

/** A batch as a source: where nothing is known of what it was made, or nothing asked. */
export const batchSource = (batchId: string): string => `batch:${batchId}`;

function addTo(composition: Map<string, number>, sourceId: string, massG: number): void {
  composition.set(sourceId, (composition.get(sourceId) ?? 0) + massG);
}

const inOrder = (composition: ReadonlyMap<string, number>): Composition =>
  new Map([...composition].toSorted(([a], [b]) => (a < b ? -1 : 1)));
