import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { contradictionsIn, type MaterialFigures, mixOf, type Reading, withMeasured } from '#libs/materials';
import { figure, material } from '../../support/material.js';

const DAY_MS = 86_400_000;
const reading = (name: Reading['figure'], value: number, day = 1): Reading => ({
  ...{ figure: name, value, atMs: day * DAY_MS, measuredOn: `2026-05-0${day}` },
  source: 'Fell Laboratory',
});
const scraps = material('scraps', {
  nitrogenPercentDry: [2.4, 1.9, 2.9],
  carbonToNitrogen: [15, 14, 16],
  moisturePercent: [69, 60, 80],
});
const numbers = ({ nitrogenPercentDry, carbonPercentDry, carbonToNitrogen }: MaterialFigures) =>
  [nitrogenPercentDry, carbonPercentDry, carbonToNitrogen].map((one) => one?.typical ?? null);

describe('what a site measured itself', () => {
  it('goes before what was published, figure by figure, and says who found it and when', () => {
    const laid = withMeasured(scraps, [reading('moisturePercent', 81, 2), reading('bulkDensityKgM3', 520)]);
    expect(laid).toEqual({
      ...scraps,
      moisturePercent: { ...figure(81, 'Fell Laboratory', '2026-05-02') },
      bulkDensityKgM3: { ...figure(520, 'Fell Laboratory', '2026-05-01') },
    });
    expect(withMeasured(scraps, [])).toEqual(scraps);
  });

  it('keeps the published C:N beside nitrogen alone', () => {
    const laid = withMeasured({ ...scraps, carbonPercentDry: figure(36) }, [
      reading('nitrogenPercentDry', 3),
    ]);
    expect(numbers(laid)).toEqual([3, null, 15]);
    expect(laid.carbonToNitrogen).toBe(scraps.carbonToNitrogen);
  });

  it('lets the published C:N go where that nitrogen would make more carbon than there is', () => {
    const chips = material('chips', { nitrogenPercentDry: 0.1, carbonToNitrogen: 500, carbonPercentDry: 50 });
    const more = [reading('nitrogenPercentDry', 0.5)];
    expect(numbers(withMeasured(chips, more))).toEqual([0.5, 50, 100]);
    expect(numbers(withMeasured({ ...chips, carbonPercentDry: null }, more))).toEqual([0.5, null, null]);
  });

  it('keeps the published nitrogen beside carbon alone, and works C:N out anew', () => {
    const laid = withMeasured(scraps, [reading('carbonPercentDry', 48)]);
    expect(numbers(laid)).toEqual([2.4, 48, 20]);
    expect(laid.carbonToNitrogen).toEqual({
      ...{ typical: 20, min: null, max: null, verification: 'derived', measuredOn: null },
      source: 'C over N. C: Fell Laboratory. N: the example',
    });
  });

  it('keeps the published C:N beside carbon where no nitrogen is known', () => {
    const unknown = { ...scraps, nitrogenPercentDry: null };
    expect(numbers(withMeasured(unknown, [reading('carbonPercentDry', 45)]))).toEqual([null, 45, 15]);
  });

  it('keeps the published nitrogen beside C:N alone', () => {
    const known = { ...scraps, carbonPercentDry: figure(36) };
    expect(numbers(withMeasured(known, [reading('carbonToNitrogen', 20)]))).toEqual([2.4, null, 20]);
  });

  it('works C:N out of nitrogen and carbon, dated as the later of the two', () => {
    const laid = withMeasured(scraps, [
      reading('nitrogenPercentDry', 2, 3),
      reading('carbonPercentDry', 40, 2),
    ]);
    expect(numbers(laid)).toEqual([2, 40, 20]);
    expect(laid.carbonToNitrogen?.measuredOn).toBe('2026-05-03');
  });

  it('leaves all three alone where one sample gave them, and the two later ones where not', () => {
    const all = [
      reading('nitrogenPercentDry', 2, 2),
      reading('carbonPercentDry', 40, 2),
      reading('carbonToNitrogen', 21, 2),
    ];
    expect(numbers(withMeasured(scraps, all))).toEqual([2, 40, 21]);
    const [, , ratio] = all;
    const earlier = [all[0]!, reading('carbonPercentDry', 30, 1), ratio!];
    expect(numbers(withMeasured(scraps, earlier))).toEqual([2, null, 21]);
    const laterCarbon = [reading('nitrogenPercentDry', 2, 1), reading('carbonPercentDry', 42, 3), ratio!];
    expect(numbers(withMeasured(scraps, laterCarbon))).toEqual([null, 42, 21]);
  });

  it('does not leave all three where two samples of one time contradict each other', () => {
    const bare = [reading('nitrogenPercentDry', 0), reading('carbonToNitrogen', 0.01)];
    expect(numbers(withMeasured(scraps, [...bare, reading('carbonFromAsh', 10)]))).toEqual([0, 50, null]);
    const apart = [reading('nitrogenPercentDry', 2), reading('carbonToNitrogen', 30)];
    expect(numbers(withMeasured(scraps, [...apart, reading('carbonFromAsh', 10)]))).toEqual([2, 50, 25]);
  });

  it('takes carbon from ash by the formula of Cornell, with its range, unless carbon was found later', () => {
    const ash = [reading('ashPercentDry', 10, 2), reading('carbonFromAsh', 10, 2)];
    const laid = withMeasured(scraps, ash);
    expect(laid.ashPercentDry).toMatchObject({ typical: 10, verification: 'local' });
    expect(laid.carbonPercentDry).toEqual({
      ...{ typical: 50, min: 40.5, max: 54, verification: 'derived', measuredOn: '2026-05-02' },
      source: '(100 − ash) / 1.8, Cornell Composting, of an ash of 10 %: Fell Laboratory',
    });
    expect(laid.carbonToNitrogen?.typical).toBeCloseTo(50 / 2.4, 10);
    expect(laid.carbonToNitrogen?.min).toBeCloseTo(40.5 / 2.9, 10);
    expect(laid.carbonToNitrogen?.max).toBeCloseTo(54 / 1.9, 10);
    expect(withMeasured(scraps, [...ash, reading('carbonPercentDry', 44, 3)]).carbonPercentDry?.typical).toBe(
      44,
    );
    expect(withMeasured(scraps, [...ash, reading('carbonPercentDry', 44, 1)]).carbonPercentDry?.typical).toBe(
      50,
    );
  });

  it('leaves a published ash out that has no room beside what was measured', () => {
    const soiled = { ...scraps, ashPercentDry: figure(60) };
    expect(withMeasured(soiled, [reading('carbonPercentDry', 45)]).ashPercentDry).toBeNull();
    expect(withMeasured(soiled, [reading('carbonPercentDry', 30)]).ashPercentDry).toEqual(figure(60));
  });

  it('works out no ratio of nothing', () => {
    expect(numbers(withMeasured(scraps, [reading('carbonPercentDry', 0)]))).toEqual([2.4, 0, null]);
    const none = [reading('nitrogenPercentDry', 0), reading('carbonPercentDry', 50)];
    expect(numbers(withMeasured(scraps, none))).toEqual([0, 50, null]);
  });

  it('passes over what the kind of material cannot have, as where it was changed since', () => {
    const ash = material('ash', { kind: 'mineral', moisturePercent: 5 });
    const found = [reading('nitrogenPercentDry', 1), reading('moisturePercent', 12)];
    expect(withMeasured(ash, found)).toEqual({
      ...ash,
      moisturePercent: figure(12, 'Fell Laboratory', '2026-05-01'),
    });
    const wet = [reading('moisturePercent', 100)];
    expect(withMeasured(scraps, wet)).toEqual(scraps);
  });

  it('never leaves figures that contradict each other, whatever was measured of whatever was published', () => {
    const percent = fc.double({ min: 0, max: 100, noNaN: true });
    const maybe = <T>(of: fc.Arbitrary<T>) => fc.option(of, { nil: undefined });
    const sets = fc.record({
      nitrogenPercentDry: maybe(percent),
      carbonPercentDry: maybe(percent),
      carbonToNitrogen: maybe(fc.double({ min: 0.01, max: 10_000, noNaN: true })),
      ashPercentDry: maybe(percent),
      carbonFromAsh: maybe(percent),
    });
    fc.assert(
      fc.property(
        sets,
        sets,
        fc.array(fc.integer({ min: 1, max: 9 }), { minLength: 5, maxLength: 5 }),
        (had, found, days) => {
          const { carbonFromAsh: _, ...published } = had;
          const given = Object.entries(published).filter(([, value]) => value !== undefined);
          const readings = Object.entries(found).flatMap(([name, value], index) =>
            value === undefined ? [] : [reading(name as Reading['figure'], value, days[index])],
          );
          const laid = withMeasured(
            material('any', { ...Object.fromEntries(given), moisturePercent: 50 }),
            readings,
          );
          const faults = contradictionsIn('organic', laid).filter(
            ({ figures }) => found.ashPercentDry === undefined || !figures.includes('ashPercentDry'),
          );
          // What nobody measured is judged when it is stated.
          const sampled = readings.filter(({ figure: name }) => name !== 'ashPercentDry');
          if (sampled.length > 0) expect(faults).toEqual([]);
          expect(() => mixOf([{ material: laid, massG: 1000, estimatedG: 0, estimatedMl: 0 }])).not.toThrow();
        },
      ),
      { numRuns: 300 },
    );
  });
});
