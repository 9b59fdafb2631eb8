import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  batchSource,
  type BatchLink,
  type BatchWeb,
  compositionsOf,
  fromBatch,
  partsOf,
  reachedBy,
  type SourceInput,
} from '#libs/accounting';
import { sumG } from '#libs/quantities';

const input = (batchId: string, sourceId: string, massG: number): SourceInput => ({
  batchId,
  sourceId,
  massG,
});
const link = (fromBatchId: string, toBatchId: string, massG: number): BatchLink => ({
  fromBatchId,
  toBatchId,
  massG,
});
const madeOf = (web: BatchWeb, batchId: string) => Object.fromEntries(compositionsOf(web).get(batchId) ?? []);
const intoG = ({ inputs, links }: BatchWeb, batchId: string) =>
  sumG([
    ...inputs.filter((each) => each.batchId === batchId).map(({ massG }) => massG),
    ...links.filter((each) => each.toBatchId === batchId).map(({ massG }) => massG),
  ]);

/** Batches that give only to later ones, as a batch cannot give before it was made; several links between two, too. */
const webs = fc.integer({ min: 1, max: 12 }).chain((batches) => {
  const index = fc.integer({ min: 0, max: batches - 1 });
  const massG = fc.integer({ min: 1, max: 3_000_000 });
  const source = fc.constantFrom('lot-1', 'lot-2', 'lot-3', 'lot-4', 'stock:leaves', 'stock:wood-chips');
  const inputs = fc.array(fc.record({ batchId: index.map((at) => `b${at}`), sourceId: source, massG }), {
    maxLength: 30,
  });
  const links = fc
    .array(fc.tuple(index, index, massG), { maxLength: 30 })
    .map((drawn) =>
      drawn
        .filter(([a, b]) => a !== b)
        .map(([a, b, mass]) => link(`b${Math.min(a, b)}`, `b${Math.max(a, b)}`, mass)),
    );
  return fc.record({ inputs, links });
});

describe('of what a batch is made', () => {
  it('parts overs over what their batch was made of, to the gram', () => {
    const web = {
      inputs: [
        input('first', 'hay', 100_000),
        input('first', 'scraps', 300_000),
        input('second', 'leaves', 70_000),
      ],
      links: [link('first', 'second', 30_000)],
    };
    expect(madeOf(web, 'second')).toEqual({ hay: 7_500, leaves: 70_000, scraps: 22_500 });
  });

  it('adds what comes by two ways that part and meet again', () => {
    const web = {
      inputs: [input('top', 'hay', 10_000), input('left', 'a', 9_000), input('right', 'b', 3_000)],
      links: [
        ...[link('top', 'left', 1_000), link('top', 'right', 1_000)],
        ...[link('left', 'end', 5_000), link('right', 'end', 2_000)],
      ],
    };
    // A tenth of 5,000 g by the left, a quarter of 2,000 g by the right.
    expect(madeOf(web, 'end')).toEqual({ a: 4_500, b: 1_500, hay: 1_000 });
  });

  it('hands on what came by a merge with what was there', () => {
    const web = {
      inputs: [
        input('giver', 'hay', 40_000),
        input('taker', 'scraps', 120_000),
        input('next', 'leaves', 1_000),
      ],
      links: [link('giver', 'taker', 40_000), link('taker', 'next', 16_000)],
    };
    expect(madeOf(web, 'next')).toEqual({ hay: 4_000, leaves: 1_000, scraps: 12_000 });
  });

  it('makes up the whole of every batch, whatever gave to whatever', () => {
    fc.assert(
      fc.property(webs, (web) => {
        const batches = new Set([
          ...web.inputs.map(({ batchId }) => batchId),
          ...web.links.flatMap(({ fromBatchId, toBatchId }) => [fromBatchId, toBatchId]),
        ]);
        const made = compositionsOf(web);
        expect([...made.keys()].toSorted()).toEqual([...batches].toSorted());
        for (const [batchId, composition] of made) {
          const parts = [...composition.values()];
          expect(parts.every((partG) => Number.isSafeInteger(partG) && partG >= 0)).toBe(true);
          expect(sumG(parts)).toBe(intoG(web, batchId));
        }
      }),
    );
  });

  it('says the same whatever the order of its rows, and however much more of a web was read', () => {
    fc.assert(
      fc.property(webs, fc.integer({ min: 1, max: 11 }), (web, last) => {
        const made = compositionsOf(web);
        const turned = compositionsOf({ inputs: web.inputs.toReversed(), links: web.links.toReversed() });
        expect(turned).toEqual(made);
        // Batches only give to later ones: without those after the last, nothing before it may change.
        const early = (batchId: string) => Number(batchId.slice(1)) <= last;
        const less = compositionsOf({
          inputs: web.inputs.filter(({ batchId }) => early(batchId)),
          links: web.links.filter(({ toBatchId }) => early(toBatchId)),
        });
        for (const [batchId, composition] of less) expect(composition).toEqual(made.get(batchId));
      }),
    );
  });

  it('stays within a gram a link of what exact fractions would say', () => {
    fc.assert(
      fc.property(webs.map(givingWhatThereIs), (web) => {
        const exact = fractionOf(web, 'lot-1');
        for (const [batchId, composition] of compositionsOf(web)) {
          const off = Math.abs((composition.get('lot-1') ?? 0) - exact(batchId) * intoG(web, batchId));
          expect(off).toBeLessThanOrEqual(web.links.length + 1e-3);
        }
      }),
    );
  });

  it('follows fifty generations of overs, and loses no gram', () => {
    const generations = Array.from({ length: 50 }, (_, at) => `g${at}`);
    const web = {
      inputs: generations.map((batchId, at) => input(batchId, `lot-${at}`, 1_000_000)),
      links: generations.slice(1).map((batchId, at) => link(`g${at}`, batchId, 800_000)),
    };
    const last = compositionsOf(web).get('g49')!;
    expect(sumG(last.values())).toBe(1_800_000);
    expect(last.get('lot-49')).toBe(1_000_000);
    // Of the generation before: 800 kg of 1,800 kg that held 1,000 kg of it.
    expect(last.get('lot-48')).toBe(444_444);
    // Four ninths of it went on each time.
    expect(last.get('lot-39')).toBe(Math.round(1_000_000 * (4 / 9) ** 10));
  });

  it('walks ten thousand generations without a call for each', () => {
    const count = 10_000;
    const inputs = Array.from({ length: count }, (_, at) => input(`g${at}`, `lot-${at}`, 1_000));
    const links = Array.from({ length: count - 1 }, (_, at) => link(`g${at}`, `g${at + 1}`, 300));
    const made = compositionsOf({ inputs, links: links.toReversed() });
    expect(sumG(made.get(`g${count - 1}`)!.values())).toBe(1_300);
  });

  it('takes a batch of which nothing is recorded for a source itself', () => {
    const web = { inputs: [input('next', 'leaves', 10)], links: [link('blank', 'next', 5)] };
    expect(madeOf(web, 'next')).toEqual({ [batchSource('blank')]: 5, leaves: 10 });
    expect(madeOf(web, 'blank')).toEqual({});
  });

  it('refuses a circle', () => {
    const web = { inputs: [input('a', 'hay', 10)], links: [link('a', 'b', 5), link('b', 'a', 1)] };
    expect(() => compositionsOf(web)).toThrow(RangeError);
  });
});

describe('where a source came to', () => {
  const web = {
    inputs: [
      input('a', 'hay', 100),
      input('a', 'scraps', 900),
      input('b', 'leaves', 500),
      input('z', 'hay', 1),
    ],
    links: [link('a', 'b', 500), link('b', 'c', 2), link('a', 'c', 10), link('x', 'b', 5), link('c', 'd', 1)],
  };

  it('is told batch by batch with the ways by which it came, and not of what only leads into them', () => {
    expect(reachedBy(web, 'hay').map(({ composition: _, ...rest }) => rest)).toEqual([
      { batchId: 'a', steps: 0, wholeG: 1_000, partG: 100, ways: [] },
      { batchId: 'z', steps: 0, wholeG: 1, partG: 1, ways: [] },
      {
        batchId: 'b',
        steps: 1,
        wholeG: 1_005,
        partG: 50,
        ways: [{ link: expect.objectContaining({ fromBatchId: 'a', massG: 500 }), partG: 50 }],
      },
      {
        ...{ batchId: 'c', steps: 1, wholeG: 12, partG: 1 },
        ways: [
          { link: expect.objectContaining({ fromBatchId: 'b', massG: 2 }), partG: 0 },
          { link: expect.objectContaining({ fromBatchId: 'a', massG: 10 }), partG: 1 },
        ],
      },
      // Less than half a gram of it, and told all the same.
      {
        batchId: 'd',
        steps: 2,
        wholeG: 1,
        partG: 0,
        ways: [{ link: expect.objectContaining({ fromBatchId: 'c', massG: 1 }), partG: 0 }],
      },
    ]);
    expect(reachedBy(web, 'chips')).toEqual([]);
  });

  it('adds up, source by source, to all that is in each batch', () => {
    fc.assert(
      fc.property(webs, (drawn) => {
        const sources = [...new Set(drawn.inputs.map(({ sourceId }) => sourceId))];
        const told = new Map<string, number>();
        for (const sourceId of sources) {
          for (const { batchId, partG } of reachedBy(drawn, sourceId)) {
            told.set(batchId, (told.get(batchId) ?? 0) + partG);
          }
        }
        for (const [batchId, composition] of compositionsOf(drawn)) {
          const blank = sumG(
            [...composition].filter(([id]) => id.startsWith('batch:')).map(([, partG]) => partG),
          );
          expect((told.get(batchId) ?? 0) + blank).toBe(intoG(drawn, batchId));
        }
      }),
    );
  });
});

describe('what left a batch', () => {
  it('is made up of the parts of its sources', () => {
    const composition = new Map([
      ['hay', 100],
      ['scraps', 200],
    ]);
    expect([...partsOf(100, composition, 'b')]).toEqual([
      ['hay', 33],
      ['scraps', 67],
    ]);
    expect([...partsOf(1, composition, 'b')]).toEqual([['scraps', 1]]);
    fc.assert(
      fc.property(fc.nat(5_000_000), fc.array(fc.nat(1_000_000), { maxLength: 40 }), (massG, weights) => {
        const made = new Map(weights.map((weight, at) => [`s${at}`, weight]));
        expect(sumG(partsOf(massG, made, 'b').values())).toBe(massG);
      }),
    );
  });
});

describe('a batch as the source', () => {
  it('is followed with all that was in it, and with nothing that came by other ways', () => {
    const web = {
      inputs: [input('a', 'hay', 60_000), input('b', 'scraps', 40_000), input('c', 'leaves', 45_000)],
      links: [link('a', 'b', 20_000), link('b', 'c', 15_000), link('a', 'c', 2_000)],
    };
    expect(madeOf(fromBatch(web, 'b'), 'c')).toEqual({
      [batchSource('b')]: 15_000,
      hay: 2_000,
      leaves: 45_000,
    });
  });

  it('has the share in each later batch that its own sources have there', () => {
    fc.assert(
      fc.property(webs, (web) => {
        const seen = compositionsOf(fromBatch(web, 'b0'));
        for (const [batchId, composition] of seen) {
          expect(sumG(composition.values())).toBe(intoG(web, batchId));
        }
      }),
    );
  });
});

/** The share of one source in a batch, by another way: from the batch back, in floating point. */
function fractionOf({ inputs, links }: BatchWeb, sourceId: string): (batchId: string) => number {
  const known = new Map<string, number>();
  const share = (batchId: string): number => {
    const before = known.get(batchId);
    if (before !== undefined) return before;
    const own = inputs.filter((each) => each.batchId === batchId);
    const into = links.filter((each) => each.toBatchId === batchId);
    const total = sumG([...own, ...into].map(({ massG }) => massG));
    const direct = own.reduce((sum, each) => sum + (each.sourceId === sourceId ? each.massG : 0), 0);
    const found =
      total === 0
        ? 0
        : into.reduce((sum, each) => sum + each.massG * share(each.fromBatchId), direct) / total;
    known.set(batchId, found);
    return found;
  };
  return share;
}

/** The same with no batch giving more than went into it, so that no gram that was rounded becomes many. */
function givingWhatThereIs({ inputs, links }: BatchWeb): BatchWeb {
  const kept: BatchLink[] = [];
  for (const each of links.toSorted((a, b) =>
    a.fromBatchId.padStart(3) < b.fromBatchId.padStart(3) ? -1 : 1,
  )) {
    const given = sumG(
      kept.filter((other) => other.fromBatchId === each.fromBatchId).map(({ massG }) => massG),
    );
    const left = intoG({ inputs, links: kept }, each.fromBatchId) - given;
    if (left > 0) kept.push({ ...each, massG: Math.min(each.massG, left) });
  }
  return { inputs, links: kept };
}
