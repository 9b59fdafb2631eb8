import { describe, expect, it } from 'vitest';
import { type Figure, type MaterialFigures, type Mix, mixOf } from '#libs/materials';
import { figure, material } from '../../support/material.js';

const alone = (one: MaterialFigures): Mix =>
  mixOf([{ material: one, massG: 1000, estimatedG: 0, estimatedMl: 0 }]);
const carbonToNitrogen = (one: MaterialFigures): number | null => alone(one).value.carbonToNitrogen;
const half = { moisturePercent: 50 };
const measured = (given: Parameters<typeof figure>[0]): Figure => figure(given, 'a laboratory', '2026-04-01');

describe('carbon and nitrogen of a material', () => {
  it('come from any two of N, C and C:N, or from ash', () => {
    const n = { nitrogenPercentDry: 2 };
    const c = { carbonPercentDry: 45 };
    const r = { carbonToNitrogen: 22.5 };
    const ash = { ashPercentDry: 19 };
    for (const two of [
      { ...n, ...r },
      { ...n, ...c },
      { ...c, ...r },
      { ...n, ...ash },
      { ...ash, ...r },
    ]) {
      expect(carbonToNitrogen(material('one', { ...two, ...half }))).toBeCloseTo(22.5, 10);
      expect(alone(material('one', { ...two, ...half })).missing.map((one) => one.figure)).toEqual([
        'bulkDensityKgM3',
      ]);
    }
  });

  it('need two figures, and say which is missing', () => {
    const lacks = (given: Parameters<typeof material>[1]): string[] =>
      alone(material('one', { ...given, ...half, bulkDensityKgM3: 300 })).missing.map((one) => one.figure);
    expect(lacks({})).toEqual(['nitrogenPercentDry', 'carbonToNitrogen']);
    expect(lacks({ nitrogenPercentDry: 2 })).toEqual(['carbonToNitrogen']);
    for (const name of ['carbonPercentDry', 'ashPercentDry', 'carbonToNitrogen'] as const) {
      expect(lacks({ [name]: 40 })).toEqual(['nitrogenPercentDry']);
    }
  });

  it('of a material without nitrogen count as carbon all the same', () => {
    const pulp = material('pulp', { nitrogenPercentDry: 0, carbonPercentDry: 45, ...half });
    const grass = material('grass', { nitrogenPercentDry: 3, carbonPercentDry: 45, ...half });
    expect(carbonToNitrogen(pulp)).toBeNull();
    const mix = mixOf(
      [pulp, grass].map((one) => ({ material: one, massG: 500, estimatedG: 0, estimatedMl: 0 })),
    );
    expect(mix.value.carbonToNitrogen).toBeCloseTo(30, 10);
    expect(mix.knownMassShare.carbonToNitrogen).toBe(1);
    // A C:N where there is no nitrogen says nothing of the carbon.
    const told = material('told', { nitrogenPercentDry: 0, carbonToNitrogen: 500, ...half });
    expect(alone(told).knownMassShare.carbonToNitrogen).toBe(0);
  });

  it('of what is not organic are left out, whatever is said of them', () => {
    const grass = material('grass', { nitrogenPercentDry: 3, carbonPercentDry: 45, ...half });
    for (const kind of ['mineral', 'inert-carbon', 'water'] as const) {
      const other = material('other', {
        kind,
        nitrogenPercentDry: 1,
        carbonToNitrogen: 25,
        moisturePercent: kind === 'water' ? 100 : 10,
      });
      const mix = mixOf(
        [grass, other].map((one) => ({ material: one, massG: 500, estimatedG: 0, estimatedMl: 0 })),
      );
      expect(mix.value.carbonToNitrogen).toBeCloseTo(15, 10);
      expect(mix.knownMassShare.carbonToNitrogen).toBe(1);
    }
  });

  it('rest on what the yard measured before what was published', () => {
    const published = material('scraps', { nitrogenPercentDry: 2.4, carbonToNitrogen: 15, ...half });
    expect(carbonToNitrogen(published)).toBeCloseTo(15, 10);
    const both = { ...published, nitrogenPercentDry: measured(3), ashPercentDry: measured(10) };
    expect(carbonToNitrogen(both)).toBeCloseTo(90 / 1.8 / 3, 10);
    const nitrogen = { ...published, nitrogenPercentDry: measured(3) };
    expect(carbonToNitrogen(nitrogen)).toBeCloseTo(15, 10);
    const carbon = { ...published, carbonPercentDry: measured(40) };
    expect(carbonToNitrogen(carbon)).toBeCloseTo(40 / 2.4, 10);
  });

  it('are not made of figures that cannot go together', () => {
    const published = material('scraps', { nitrogenPercentDry: 2.4, carbonToNitrogen: 30, ...half });
    const rich = { ...published, nitrogenPercentDry: measured(5) };
    expect(carbonToNitrogen(rich)).toBeNull();
    expect(alone(rich).missing.map((one) => one.figure)).toContain('carbonToNitrogen');
    expect(carbonToNitrogen({ ...rich, ashPercentDry: figure(10) })).toBeCloseTo(10, 10);
  });

  it('keep to the range of C:N where the limit on carbon cuts off the highest nitrogen', () => {
    const manure = material('manure', {
      nitrogenPercentDry: [4, 3, 6],
      carbonToNitrogen: [12, 12, 14],
      moisturePercent: [50, 50, 50],
    });
    const range = alone(manure).range.carbonToNitrogen!;
    expect(range.min).toBeCloseTo(12, 10);
    expect(range.max).toBeCloseTo(14, 10);
  });

  it('from ash have the range of carbon in organic matter, 45 to 60 %', () => {
    const leaves = material('leaves', {
      nitrogenPercentDry: [1, 1, 1],
      ashPercentDry: [10, 8, 14],
      moisturePercent: [50, 50, 50],
    });
    const { range, value } = alone(leaves);
    expect(value.carbonToNitrogen).toBeCloseTo(50, 10);
    expect(range.carbonToNitrogen!.min).toBeCloseTo(0.45 * 86, 10);
    expect(range.carbonToNitrogen!.max).toBeCloseTo(0.6 * 92, 10);
  });
});
