/**
 * Wet clay, 1,760 kg/m³: Engineering ToolBox, "Dirt and Mud - Densities" (verified). Hoof and horn meal, 14 % N: Texas A&M,
 * Earth-Kind Gardening, "Some common organic fertilizers" (plantanswers.com, verified). (100 − ash) / 1.8: Cornell Composting.
 */
import { describe, expect, it } from 'vitest';
import {
  doubtsIn,
  eachFigure,
  droppedOf,
  type Sample,
  startingMaterials,
  withMeasured,
} from '#libs/materials';
import { material } from '../../support/material.js';

const leaves = {
  ...material('leaves', {
    nitrogenPercentDry: [0.9, 0.5, 1.3],
    carbonToNitrogen: [60, 40, 80],
    moisturePercent: 38,
    bulkDensityKgM3: [237, 60, 297],
  }),
  name: 'Leaves, mixed',
};
const found = (sample: Partial<Sample>, listed = leaves) =>
  doubtsIn(listed, { ...eachFigure(() => null), ...sample });
const codes = (sample: Partial<Sample>, listed = leaves) => found(sample, listed).map(({ code }) => code);

describe('what is worth a second look in a measurement', () => {
  it('is nothing where it lies within twice of what the list has', () => {
    expect(found({ bulkDensityKgM3: 80, moisturePercent: 20, nitrogenPercentDry: 1 })).toEqual([]);
    expect(codes({ bulkDensityKgM3: 594 })).toEqual([]);
    expect(codes({ bulkDensityKgM3: 30 })).toEqual([]);
    expect(found({}, leaves)).toEqual([]);
  });

  it('is a figure beyond twice or below half of that, with both numbers', () => {
    expect(found({ bulkDensityKgM3: 595 })).toEqual([
      {
        ...{ code: 'far-from-list', figure: 'bulkDensityKgM3' },
        text: 'Bulk density of 595 kg/m³ is more than twice what the list has of Leaves, mixed: 60 to 297 kg/m³.',
      },
    ]);
    expect(found({ bulkDensityKgM3: 29.9 })[0]?.text).toBe(
      'Bulk density of 29.9 kg/m³ is less than half of what the list has of Leaves, mixed: 60 to 297 kg/m³.',
    );
    expect(found({ nitrogenPercentDry: 0.2 })[0]?.text).toBe(
      'Nitrogen of 0.2 % of the dry matter is less than half of what the list has of Leaves, mixed: 0.5 to 1.3 % of the dry matter.',
    );
    expect(codes({ carbonToNitrogen: 19 })).toEqual(['far-from-list']);
  });

  it('holds moisture against half as wet and half as dry', () => {
    expect(codes({ moisturePercent: 69 })).toEqual([]);
    expect(found({ moisturePercent: 70 }).map(({ text }) => text)).toEqual([
      'Moisture of 70 % of the wet mass leaves less than half the dry matter of what the list has of Leaves, mixed: 38 % of the wet mass.',
    ]);
    expect(codes({ moisturePercent: 18 })).toEqual(['far-from-list']);
  });

  it('is a density that is no material’s, also where the list has none', () => {
    expect(codes({ bulkDensityKgM3: 4950 })).toEqual(['far-from-list', 'too-dense']);
    expect(found({ bulkDensityKgM3: 4950 })[1]?.text).toContain(
      'of 4950 kg/m³ is more than that of wet clay (1760 kg/m³)',
    );
    const unlisted = material('shells');
    expect(codes({ bulkDensityKgM3: 1760 }, unlisted)).toEqual([]);
    expect(codes({ bulkDensityKgM3: 1761 }, unlisted)).toEqual(['too-dense']);
    expect(codes({ bulkDensityKgM3: 19 }, unlisted)).toEqual(['too-light']);
    const gravel = material('gravel', { kind: 'mineral', bulkDensityKgM3: [1900, 1600, 2000] });
    expect(codes({ bulkDensityKgM3: 1950 }, gravel)).toEqual([]);
  });

  it('is more nitrogen than horn meal has, unless the list has more', () => {
    const text = found({ nitrogenPercentDry: 31 }).map((one) => one.text);
    expect(text[1]).toBe(
      'Nitrogen of 31 % of the dry matter is more than hoof and horn meal has (14 %): is it protein, or in another unit?',
    );
    const urea = material('urea', { nitrogenPercentDry: 46 });
    expect(codes({ nitrogenPercentDry: 45.5 }, urea)).toEqual([]);
  });

  it('is carbon that does not go with the ash of the same sample', () => {
    const unlisted = material('husks');
    expect(codes({ carbonPercentDry: 48, ashPercentDry: 10 }, unlisted)).toEqual([]);
    // (100 − 10) / 1.8 = 50
    expect(found({ carbonPercentDry: 30, ashPercentDry: 10 }, unlisted)).toEqual([
      {
        ...{ code: 'carbon-against-ash', figure: 'carbonPercentDry' },
        text: 'Carbon of 30 % of the dry matter is far from the 50 % that an ash of 10 % usually leaves, (100 − ash) / 1.8.',
      },
    ]);
    // Triolein: 77.3 % C by its formula, no ash.
    expect(codes({ carbonPercentDry: 77.3, ashPercentDry: 0 }, unlisted)).toEqual([]);
  });

  it('is a figure of the list that cannot stand beside it', () => {
    expect(codes({ nitrogenPercentDry: 31 })).toEqual([
      'far-from-list',
      'too-much-nitrogen',
      'list-left-out',
    ]);
    expect(found({ nitrogenPercentDry: 31 })[2]?.text).toBe(
      'Nitrogen of 31 % of the dry matter cannot go with the C:N of 60 that the list has of Leaves, mixed, which is not used beside it.',
    );
  });

  it('is not the middle of the starting list, whatever the material', () => {
    for (const listed of startingMaterials) {
      const typical = eachFigure((figure) => listed[figure]?.typical ?? null);
      expect(found(typical, listed), listed.code).toEqual([]);
    }
  });
});

describe('what is left out beside a measurement', () => {
  const reading = (figure: 'nitrogenPercentDry' | 'carbonPercentDry', value: number) => ({
    ...{ figure, value, atMs: 0, measuredOn: '2026-05-01', source: 'Fell Laboratory' },
  });
  it('is told with the figure that it cannot go with, and not what only gave way to two others', () => {
    const used = withMeasured(leaves, [reading('nitrogenPercentDry', 31)]);
    expect(droppedOf(leaves, used)).toEqual([
      { figure: 'carbonToNitrogen', listed: 60, beside: 'nitrogenPercentDry', measured: 31 },
    ]);
    const both = withMeasured(leaves, [reading('nitrogenPercentDry', 1), reading('carbonPercentDry', 45)]);
    expect(both.carbonToNitrogen?.typical).toBe(45);
    expect(droppedOf(leaves, both)).toEqual([]);
    expect(droppedOf(leaves, leaves)).toEqual([]);
  });
});
