import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  type Interval,
  type MaterialFigure,
  type MaterialFigures,
  type Mix,
  type MixFigure,
  type MixPart,
  mixFigures,
  mixOf,
} from '#libs/materials';
import { figure, material, water } from '../../support/material.js';

type Ends = readonly [min: number, typical: number, max: number];

const ends = (min: number, max: number): fc.Arbitrary<Ends> =>
  fc
    .tuple(...([1, 2, 3] as const).map(() => fc.double({ min, max, noNaN: true })))
    .map((three) => three.toSorted((a, b) => a - b) as unknown as Ends);

interface Lot {
  readonly known: Readonly<Partial<Record<MaterialFigure, Ends>>>;
  readonly weighedG: number;
  readonly estimatedG: number;
  readonly estimatedMl: number;
}

/** Carbon up to 4 × 30 %: the limit on carbon cuts many of them. */
const balance = fc.oneof(
  fc.record({ nitrogenPercentDry: ends(0.2, 4), carbonToNitrogen: ends(8, 30) }),
  fc.record({ nitrogenPercentDry: ends(0.2, 4), carbonPercentDry: ends(20, 55) }),
  fc.record({ carbonPercentDry: ends(20, 55), carbonToNitrogen: ends(8, 90) }),
);
const lot: fc.Arbitrary<Lot> = fc
  .tuple(
    balance,
    fc.record({
      ashPercentDry: ends(0, 40),
      moisturePercent: ends(0, 95),
      bulkDensityKgM3: ends(60, 900),
    }),
    fc.integer({ min: 0, max: 400_000 }),
    fc.integer({ min: 1, max: 400_000 }),
    // What the mass was estimated with need not be the density that is in use now, nor within its range.
    fc.option(fc.double({ min: 60, max: 900, noNaN: true })),
  )
  .map(([of, others, weighedG, estimatedG, thenKgM3]) => {
    const estimatedMl = (estimatedG * 1000) / (thenKgM3 ?? others.bulkDensityKgM3[1]);
    return { known: { ...of, ...others }, weighedG, estimatedG, estimatedMl };
  })
  .filter(({ known }) => carbonOf(known, 1) <= 95);

function carbonOf(known: Lot['known'], end: 0 | 1 | 2): number {
  const { nitrogenPercentDry, carbonPercentDry, carbonToNitrogen } = known;
  return carbonPercentDry?.[end] ?? nitrogenPercentDry![end] * carbonToNitrogen![end];
}

function partOf({ known, weighedG, ...estimated }: Lot, index: number): MixPart {
  const given = Object.fromEntries(
    Object.entries(known).map(([name, [min, typical, max]]) => [name, [typical, min, max] as const]),
  );
  return { material: material(`m${index}`, given), massG: weighedG + estimated.estimatedG, ...estimated };
}

/** The lot if its figures were exactly these: what was estimated weighs what its volume weighs then. */
function partAt(
  { weighedG, estimatedMl }: Lot,
  at: Partial<Record<MaterialFigure, number>>,
  index: number,
): MixPart {
  const estimatedG = (estimatedMl / 1000) * at.bulkDensityKgM3!;
  return { material: material(`m${index}`, at), massG: weighedG + estimatedG, estimatedG, estimatedMl };
}

/** The same, of typical density and with the mass that was recorded. */
function partAsRecorded(lot: Lot, at: Partial<Record<MaterialFigure, number>>, index: number): MixPart {
  const { weighedG, estimatedG, estimatedMl, known } = lot;
  const figures = { ...at, bulkDensityKgM3: known.bulkDensityKgM3![1] };
  return { material: material(`m${index}`, figures), massG: weighedG + estimatedG, estimatedG, estimatedMl };
}

/** Carbon that the materials' own ranges may be cut to. */
const limit = (known: Lot['known']): number => Math.max(60, carbonOf(known, 1));

const slack = (value: number): number => 1e-9 * Math.max(1, Math.abs(value));

function expectWithin(value: number, { min, max }: Interval): void {
  expect(value).toBeGreaterThanOrEqual(min - slack(min));
  expect(value).toBeLessThanOrEqual(max + slack(max));
}

describe('the range of a mix', () => {
  it('holds whatever the materials may be within theirs', () => {
    const picks = fc.array(fc.double({ min: 0, max: 1, noNaN: true }), { minLength: 40, maxLength: 40 });
    fc.assert(
      fc.property(fc.array(lot, { minLength: 1, maxLength: 4 }), picks, (lots, shares) => {
        const mix = mixOf(lots.map(partOf));
        let next = 0;
        const sampled = lots.map((one, index) => {
          const at: Partial<Record<MaterialFigure, number>> = {};
          for (const [name, [min, , max]] of Object.entries(one.known)) {
            at[name as MaterialFigure] = min + (max - min) * shares[next++ % shares.length]!;
          }
          const carbon = at.carbonPercentDry ?? at.nitrogenPercentDry! * at.carbonToNitrogen!;
          const scale = Math.min(1, limit(one.known) / carbon);
          // Cut back to the limit along the nitrogen, and no lower than its least: beyond that there is no such material.
          if (at.carbonPercentDry !== undefined) at.carbonPercentDry *= scale;
          else {
            at.nitrogenPercentDry = Math.max(
              one.known.nitrogenPercentDry![0],
              at.nitrogenPercentDry! * scale,
            );
            at.carbonToNitrogen = Math.min(at.carbonToNitrogen!, limit(one.known) / at.nitrogenPercentDry);
          }
          return partAt(one, at, index);
        });
        const value = mixOf(sampled).value;
        for (const name of mixFigures) expectWithin(value[name]!, mix.range[name]!);
        for (const name of mixFigures) expectWithin(mix.value[name]!, mix.range[name]!);
      }),
      { numRuns: 200, endOnFailure: true },
    );
  });

  it('ends where some choice within theirs is', () => {
    fc.assert(
      fc.property(fc.array(lot, { minLength: 1, maxLength: 2 }), (lots) => {
        const mix = mixOf(lots.map(partOf));
        const found = valuesOf(lots);
        for (const name of mixFigures) {
          const { min, max } = mix.range[name]!;
          expect(Math.abs(Math.min(...found[name]) - min)).toBeLessThanOrEqual(slack(min));
          expect(Math.abs(Math.max(...found[name]) - max)).toBeLessThanOrEqual(slack(max));
        }
      }),
      { numRuns: 15, endOnFailure: true },
    );
  });

  it('of four materials ends where trying every combination does', () => {
    fc.assert(
      fc.property(fc.array(lot, { minLength: 3, maxLength: 4 }), (lots) => {
        const moistures = lots.map(({ known, ...masses }) => ({
          known: { moisturePercent: known.moisturePercent!, bulkDensityKgM3: known.bulkDensityKgM3! },
          ...masses,
        }));
        const mix = mixOf(moistures.map(partOf));
        const found = valuesOf(moistures);
        for (const name of ['moisturePercent', 'bulkDensityKgM3'] as const) {
          expect(Math.min(...found[name])).toBeCloseTo(mix.range[name]!.min, 8);
          expect(Math.max(...found[name])).toBeCloseTo(mix.range[name]!.max, 8);
        }
      }),
      { numRuns: 15, endOnFailure: true },
    );
  });

  it('is a point where every figure is, and names what had no range', () => {
    const exact = material('exact', {
      nitrogenPercentDry: 2,
      carbonToNitrogen: 20,
      moisturePercent: [60, 55, 65],
      bulkDensityKgM3: [400, 300, null],
    });
    const mix = mixOf([{ material: exact, massG: 1000, estimatedG: 0, estimatedMl: 0 }]);
    expect(mix.range.carbonToNitrogen!.min).toBeCloseTo(20, 12);
    expect(mix.range.carbonToNitrogen!.max).toBeCloseTo(20, 12);
    expect(mix.range.moisturePercent).toEqual({ min: 55, max: 65 });
    expect(mix.range.bulkDensityKgM3).toEqual({ min: 300, max: 400 });
    expect(mix.withoutRange.map((one) => one.figure)).toEqual([
      'nitrogenPercentDry',
      'carbonToNitrogen',
      'bulkDensityKgM3',
    ]);
  });

  it('knows the mass that was weighed, and of the mass that was estimated the volume', () => {
    const chips = material('chips', {
      nitrogenPercentDry: [0.1, 0.1, 0.1],
      carbonToNitrogen: [480, 480, 480],
      moisturePercent: [30, 30, 30],
      bulkDensityKgM3: [300, 250, 350],
    });
    const wet = material('wet', { moisturePercent: [80, 80, 80], bulkDensityKgM3: [800, 800, 800] });
    const range = (estimatedG: number, estimatedMl: number): Mix['range'] =>
      mixOf([
        { material: chips, massG: 300_000, estimatedG, estimatedMl },
        { material: wet, massG: 400_000, estimatedG: 0, estimatedMl: 0 },
      ]).range;
    const weighed = range(0, 0);
    const seen = range(300_000, 1_000_000);
    expect(weighed.moisturePercent!.min).toBeCloseTo(weighed.moisturePercent!.max, 10);
    // A cubic metre of chips seen: between 250 and 350 kg of it.
    expect(seen.moisturePercent!.min).toBeCloseTo((350 * 30 + 400 * 80) / 750, 10);
    expect(seen.moisturePercent!.max).toBeCloseTo((250 * 30 + 400 * 80) / 650, 10);
    expect(seen.bulkDensityKgM3!.max).toBeCloseTo(750 / 1.5, 10);
    // 300 kg of chips weighed: between 1.2 and 0.857 m³ of it.
    expect(weighed.bulkDensityKgM3!.max).toBeCloseTo(700 / (300 / 350 + 0.5), 10);
  });

  it('keeps mass and volume of what was estimated with another density, and tells what it weighs by the one in use', () => {
    const leaves = (density: Ends | null): MaterialFigures =>
      material('leaves', {
        class: 'carbon',
        moisturePercent: [30, 30, 30],
        ashPercentDry: [10, 10, 10],
        ...(density && { bulkDensityKgM3: [density[1], density[0], density[2]] as const }),
      });
    const scraps = material('scraps', {
      class: 'nitrogen',
      moisturePercent: [70, 70, 70],
      ashPercentDry: [10, 10, 10],
      bulkDensityKgM3: [500, 500, 500],
    });
    // 2 m³ taken for 240 kg/m³, and a bucket test afterwards.
    const mix = (density: Ends | null, weighedG = 0): Mix =>
      mixOf([
        { material: leaves(density), massG: 480_000 + weighedG, estimatedG: 480_000, estimatedMl: 2_000_000 },
        { material: scraps, massG: 500_000, estimatedG: 0, estimatedMl: 0 },
      ]);
    const before = mix([200, 240, 300]);
    const after = mix([80, 80, 80]);
    for (const { massG, volumeMl, value, greensToBrowns } of [before, after, mix(null)]) {
      expect([massG, volumeMl]).toEqual([980_000, 3_000_000]);
      expect(value.bulkDensityKgM3).toBeCloseTo(980 / 3, 10);
      expect(value.moisturePercent).toBeCloseTo((480 * 30 + 500 * 70) / 980, 10);
      expect(greensToBrowns.byVolume).toBeCloseTo(0.5, 10);
      expect(value.freeAirSpacePercent).toBeCloseTo(before.value.freeAirSpacePercent!, 10);
    }
    expect(before.range.bulkDensityKgM3!.min).toBeCloseTo(900 / 3, 10);
    expect(before.range.bulkDensityKgM3!.max).toBeCloseTo(1100 / 3, 10);
    // Between what those 2 m³ weigh by the bucket, and what was recorded.
    expect(after.range.bulkDensityKgM3!.min).toBeCloseTo(660 / 3, 10);
    expect(after.range.bulkDensityKgM3!.max).toBeCloseTo(980 / 3, 10);
    expect(after.range.moisturePercent!.max).toBeCloseTo((160 * 30 + 500 * 70) / 660, 10);
    // What was weighed besides follows the density in use; without one its volume is unknown.
    expect(mix([80, 80, 80], 80_000).volumeMl).toBe(4_000_000);
    expect(mix(null, 80_000)).toMatchObject({
      volumeMl: null,
      value: { moisturePercent: expect.any(Number) },
    });
    expect(mix(null).missing.map((one) => one.figure)).not.toContain('bulkDensityKgM3');
    expect(mix(null).withoutRange).toContainEqual({ materialCode: 'leaves', figure: 'bulkDensityKgM3' });
    expect(mix(null, 80_000).missing).toContainEqual({ materialCode: 'leaves', figure: 'bulkDensityKgM3' });
  });

  it('keeps carbon within 60 % of the dry matter, unless it typically is more', () => {
    const rich = (carbonToNitrogen: number): Interval =>
      mixOf([
        {
          material: material('rich', {
            nitrogenPercentDry: [2, 1, 4],
            carbonToNitrogen: [carbonToNitrogen, 10, 50],
            moisturePercent: [50, 50, 50],
          }),
          massG: 500,
          estimatedG: 0,
          estimatedMl: 0,
        },
        {
          material: material('bare', {
            nitrogenPercentDry: [1, 1, 1],
            carbonPercentDry: [0, 0, 0],
            moisturePercent: [50, 50, 50],
          }),
          massG: 500,
          estimatedG: 0,
          estimatedMl: 0,
        },
      ]).range.carbonToNitrogen!;
    // Beside as much nitrogen of another, the best is 60 % C with the least nitrogen it can have at C:N 50.
    expect(rich(20).max).toBeCloseTo(60 / (1 + 60 / 50), 10);
    expect(rich(35).max).toBeCloseTo(70 / (1 + 70 / 50), 10);
  });

  it('has no upper end where there may be no nitrogen', () => {
    const wood = material('wood', {
      nitrogenPercentDry: [0.1, 0, 0.2],
      carbonPercentDry: [50, 45, 55],
      moisturePercent: [20, 10, 30],
    });
    const { range, value } = mixOf([{ material: wood, massG: 1000, estimatedG: 0, estimatedMl: 0 }]);
    expect(value.carbonToNitrogen).toBeCloseTo(500, 10);
    expect(range.carbonToNitrogen!.min).toBeCloseTo(225, 10);
    expect(range.carbonToNitrogen!.max).toBe(Infinity);
  });

  it('has nothing as its least where there may be none, and not −0, which would be printed with its sign', () => {
    const known = material('one', { moisturePercent: [50, 0, 60] });
    const { range } = mixOf([{ material: known, massG: 1000, estimatedG: 0, estimatedMl: 0 }]);
    expect(range.moisturePercent!.min).toBe(0);
  });

  it('counts the range of a material once, however many lots of it there are', () => {
    const known = { ...material('one'), moisturePercent: figure([50, 40, 60]) } satisfies MaterialFigures;
    const one = (massG: number): MixPart => ({ material: known, massG, estimatedG: 0, estimatedMl: 0 });
    const parts = [one(300), one(700), { material: water, massG: 100, estimatedG: 0, estimatedMl: 0 }];
    expect(mixOf(parts).range.moisturePercent).toEqual({
      min: (40 * 1000 + 100 * 100) / 1100,
      max: (60 * 1000 + 100 * 100) / 1100,
    });
  });
});

/** Every figure of the mix for every material at every end of its figures, and where the limit on carbon cuts them. */
function valuesOf(lots: readonly Lot[]): Record<MixFigure, number[]> {
  const found: Record<MixFigure, number[]> = {
    carbonToNitrogen: [],
    moisturePercent: [],
    bulkDensityKgM3: [],
    freeAirSpacePercent: [],
  };
  const each = (index: number, parts: readonly MixPart[]): void => {
    const one = lots[index];
    if (one) {
      for (const at of choicesOf(one.known)) {
        each(index + 1, [...parts, partAt(one, at, index)]);
        if (at.bulkDensityKgM3 === one.known.bulkDensityKgM3![0])
          each(index + 1, [...parts, partAsRecorded(one, at, index)]);
      }
      return;
    }
    const { value } = mixOf(parts);
    for (const name of mixFigures) if (value[name] !== null) found[name].push(value[name]);
  };
  each(0, []);
  return found;
}

function choicesOf(known: Lot['known']): Partial<Record<MaterialFigure, number>>[] {
  const names = Object.keys(known) as MaterialFigure[];
  let choices: Partial<Record<MaterialFigure, number>>[] = [{}];
  for (const name of names) {
    const [min, , max] = known[name]!;
    choices = choices.flatMap((choice) => [
      { ...choice, [name]: min },
      { ...choice, [name]: max },
    ]);
  }
  const { nitrogenPercentDry, carbonToNitrogen } = known;
  if (!nitrogenPercentDry || !carbonToNitrogen) return choices;
  const most = limit(known);
  const onTheLimit = choices.flatMap((choice) => [
    { ...choice, carbonToNitrogen: Math.min(choice.carbonToNitrogen!, most / choice.nitrogenPercentDry!) },
    { ...choice, nitrogenPercentDry: Math.min(choice.nitrogenPercentDry!, most / choice.carbonToNitrogen!) },
  ]);
  return onTheLimit.filter(
    (choice) =>
      choice.carbonToNitrogen! >= carbonToNitrogen[0] && choice.nitrogenPercentDry! >= nitrogenPercentDry[0],
  );
}
