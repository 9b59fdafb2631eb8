import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  type HauledLot,
  haulDifferences,
  haulDifferenceState,
  type HaulWeighings,
  shareHaul,
} from '#libs/accounting';

const lot = (id: string, basis: HauledLot['basis'], acceptedG: number): HauledLot => ({
  id,
  basis,
  acceptedG,
});
const sum = (masses: Iterable<number>) => [...masses].reduce((total, massG) => total + massG, 0);

describe('the shares of a haul’s weight', () => {
  it('gives to the lots that were estimated what the weighed ones leave, by their estimates', () => {
    const { restG, sharesG } = shareHaul(100_000, [
      lot('weighed', 'scale', 40_000),
      lot('small', 'volume', 10_000),
      lot('large', 'volume', 20_000),
    ]);
    expect(restG).toBe(60_000);
    expect(sharesG).toEqual(
      new Map([
        ['small', 20_000],
        ['large', 40_000],
      ]),
    );
  });

  it('gives the grams that do not divide to the largest remainders, and of equal ones to the first', () => {
    const thirds = [lot('a', 'volume', 7), lot('b', 'volume', 7), lot('c', 'volume', 7)];
    expect([...shareHaul(100, thirds).sharesG!.values()]).toEqual([34, 33, 33]);
    // 10 × 3/7 = 4.29, 10 × 4/7 = 5.71: the gram that is left goes to the second.
    expect([...shareHaul(10, [lot('a', 'volume', 3), lot('b', 'volume', 4)]).sharesG!.values()]).toEqual([
      4, 6,
    ]);
  });

  it('shares nothing where every lot was weighed', () => {
    expect(shareHaul(90, [lot('a', 'scale', 100)])).toEqual({ restG: -10, sharesG: new Map() });
  });

  it('leaves out lots of which nothing is left', () => {
    const { sharesG } = shareHaul(50, [lot('gone', 'volume', 0), lot('there', 'volume', 9)]);
    expect(sharesG).toEqual(new Map([['there', 50]]));
    expect(shareHaul(50, [lot('gone', 'volume', 0)]).sharesG).toEqual(new Map());
  });

  it.each([
    ['nothing', 40_000, 0],
    ['less than nothing', 39_000, -1_000],
  ])('cannot share where the weighed lots leave %s', (_, inG, restG) => {
    const lots = [lot('weighed', 'scale', 40_000), lot('bucket', 'volume', 8_000)];
    expect(shareHaul(inG, lots)).toEqual({ restG, sharesG: null });
  });

  it('always makes the whole, to the gram, and gives nobody more than a gram beyond the proportion', () => {
    const arbitraryLot = fc.record({
      basis: fc.constantFrom<HauledLot['basis']>('scale', 'volume'),
      acceptedG: fc.integer({ min: 0, max: 2_000_000 }),
    });
    fc.assert(
      fc.property(
        fc.array(arbitraryLot, { maxLength: 40 }),
        fc.integer({ min: 1, max: 50_000_000 }),
        (some, restG) => {
          const lots = some.map((one, index) => ({ id: String(index), ...one }));
          const weighedG = sum(
            lots.filter(({ basis }) => basis === 'scale').map(({ acceptedG }) => acceptedG),
          );
          const estimated = lots.filter(({ basis, acceptedG }) => basis === 'volume' && acceptedG > 0);
          fc.pre(estimated.length > 0);
          const estimatedG = sum(estimated.map(({ acceptedG }) => acceptedG));
          const { sharesG } = shareHaul(weighedG + restG, lots);
          expect(sum(sharesG!.values())).toBe(restG);
          expect([...sharesG!.keys()]).toEqual(estimated.map(({ id }) => id));
          for (const { id, acceptedG } of estimated) {
            expect(Math.abs(sharesG!.get(id)! - (restG * acceptedG) / estimatedG)).toBeLessThan(1.001);
          }
        },
      ),
    );
  });

  it('refuses what is no whole gram', () => {
    expect(() => shareHaul(10.5, [lot('a', 'volume', 3)])).toThrow(RangeError);
    expect(() => shareHaul(10, [lot('a', 'scale', -3)])).toThrow(RangeError);
  });
});

describe('how the figures of a haul differ', () => {
  const weighings = (changes: Partial<HaulWeighings>): HaulWeighings => ({
    ...{ outG: null, inG: null, weighedG: 0, weighedLots: 0, sharedG: 0, sharedLots: 0, estimatedLots: 0 },
    ...changes,
  });
  const stateOf = (changes: Partial<HaulWeighings>, explained = false) =>
    haulDifferenceState(haulDifferences(weighings(changes)), explained);

  it('tells the yard’s weight against the hub’s, and against the lots', () => {
    const { road, lots } = haulDifferences(
      weighings({ outG: 100_000, inG: 98_000, weighedG: 99_000, weighedLots: 3 }),
    );
    expect(road).toEqual({ massG: -2_000, percent: -2, isRounding: false });
    expect(lots!.massG).toBe(-1_000);
    expect(lots!.percent).toBeCloseTo(-100 / 99, 12);
  });

  it('holds an estimate against nothing', () => {
    const bucket = { weighedG: 5_000, weighedLots: 1, estimatedLots: 1 };
    expect(haulDifferences(weighings({ ...bucket, inG: 9_000 }))).toEqual({ road: null, lots: null });
    expect(stateOf({ ...bucket, inG: 9_000 })).toBe('unknown');
    expect(stateOf({ ...bucket, inG: 9_000, outG: 9_500 })).toBe('open');
  });

  it('takes shares that make the weight for no proof of it, and tells when they do not any more', () => {
    const shared = { inG: 9_000, sharedG: 4_000, sharedLots: 2, weighedLots: 1 };
    expect(stateOf({ ...shared, weighedG: 5_000 })).toBe('unknown');
    expect(stateOf({ ...shared, weighedG: 5_500 })).toBe('open');
  });

  it('is open until somebody explains it', () => {
    expect(stateOf({ outG: 10_000, inG: 9_000, estimatedLots: 4 })).toBe('open');
    expect(stateOf({ outG: 10_000, inG: 9_000, estimatedLots: 4 }, true)).toBe('explained');
    expect(stateOf({ outG: 10_000, weighedG: 9_000, weighedLots: 1 })).toBe('open');
    expect(stateOf({ weighedG: 9_000, weighedLots: 1 })).toBe('unknown');
  });

  // 29.1 + 30.2 + 10.0 lb are 13 200 + 13 698 + 4 536 g, 69.3 lb are 31 434 g; 0.1 lb three times is 135 g, 0.3 lb 136 g.
  it('calls no difference what the rounding to grams makes', () => {
    expect(stateOf({ inG: 136, weighedG: 135, weighedLots: 3 })).toBe('none');
    expect(stateOf({ inG: 138, weighedG: 135, weighedLots: 3 })).toBe('open');
    expect(stateOf({ inG: 10_001, outG: 10_000, estimatedLots: 1 })).toBe('none');
    expect(stateOf({ inG: 10_002, outG: 10_000, estimatedLots: 1 })).toBe('open');
  });

  it('has no percentage of nothing', () => {
    expect(haulDifferences(weighings({ inG: 5_000 })).lots).toEqual({
      massG: 5_000,
      percent: null,
      isRounding: false,
    });
  });
});
