import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { wasteCategories } from '#libs/accounting';
import {
  contradictionsIn,
  type Figure,
  type MaterialFigure,
  materialFigures,
  startingMaterials,
  startingWasteCategories,
} from '#libs/materials';

const material = (code: string) => startingMaterials.find((row) => row.code === code)!;

interface Known extends Figure {
  readonly of: string;
  readonly name: MaterialFigure;
}

const known: Known[] = startingMaterials.flatMap((row) =>
  materialFigures.flatMap((name) => {
    const figure = row[name];
    return figure ? [{ ...figure, name, of: `${row.code} ${name}` }] : [];
  }),
);
const ends = ({ typical, min, max }: Figure) => [min ?? typical, typical, max ?? typical];

describe('the starting list', () => {
  it('has at least three dozen materials, each with a code of its own', () => {
    expect(startingMaterials.length).toBeGreaterThanOrEqual(36);
    expect(new Set(startingMaterials.map(({ code }) => code)).size).toBe(startingMaterials.length);
    for (const { code } of startingMaterials) expect(code).toMatch(/^[a-z]+(-[a-z]+)*$/);
  });

  it('says of each material but water what it is to those who count waste, and of no other', () => {
    const codes = startingMaterials.map(({ code }) => code).filter((code) => code !== 'water');
    expect(Object.keys(startingWasteCategories).sort()).toEqual(codes.sort());
    for (const category of Object.values(startingWasteCategories))
      expect(wasteCategories).toContain(category);
    expect(startingWasteCategories['wood-chips-softwood']).toBe('branches');
  });

  it('gives each figure a source of its own, and says from memory exactly where it is', () => {
    expect(known.length).toBeGreaterThan(120);
    for (const { of, source, verification, measuredOn } of known) {
      expect(source.length, of).toBeGreaterThan(20);
      expect(source.length, of).toBeLessThan(250);
      expect(/from memory/i.test(source), of).toBe(verification === 'from-memory');
      expect(measuredOn, of).toBeNull();
      expect(verification, of).not.toBe('local');
    }
  });

  it('says of each figure that is the middle of its range that it is', () => {
    for (const { of, typical, min, max, source } of known) {
      if (min === null || max === null || !source.includes(`midpoint of ${min}–${max}`)) continue;
      expect(typical, of).toBeCloseTo((min + max) / 2, 3);
    }
    expect(material('leaves').carbonToNitrogen).toMatchObject({ typical: 60, min: 40, max: 80 });
    expect(material('leaves').carbonToNitrogen!.source).toContain('Table 3');
    expect(material('leaves').carbonToNitrogen!.source).toMatch(/leaves; midpoint of 40–80$/);
  });

  it('holds only figures that can be, each within its range', () => {
    for (const figure of known) {
      const { of, name } = figure;
      const [min = NaN, typical = NaN, max = NaN] = ends(figure);
      expect(min <= typical && typical <= max, of).toBe(true);
      if (name === 'carbonToNitrogen') expect(min, of).toBeGreaterThan(1);
      else if (name === 'bulkDensityKgM3') expect(min > 25 && max <= 1600, of).toBe(true);
      else expect(min >= 0 && max <= 100, of).toBe(true);
    }
  });

  it('holds nothing that a programme would be refused', () => {
    for (const row of startingMaterials) expect(contradictionsIn(row.kind, row), row.code).toEqual([]);
  });

  // Dry organic matter is roughly a quarter to two thirds carbon; a product outside says the two figures do not belong together.
  it('pairs nitrogen and C:N to a carbon that can be', () => {
    for (const { code, nitrogenPercentDry, carbonToNitrogen, carbonPercentDry } of startingMaterials) {
      if (!nitrogenPercentDry || !carbonToNitrogen) continue;
      const percent = nitrogenPercentDry.typical * carbonToNitrogen.typical;
      expect(percent > 25 && percent < 65, `${code}: ${percent} % C`).toBe(true);
      if (carbonPercentDry) expect(percent, code).toBeCloseTo(carbonPercentDry.typical, 0);
    }
  });

  it('calls a material nitrogen-rich or carbon-rich as its C:N says', () => {
    for (const { code, class: kind, carbonToNitrogen } of startingMaterials) {
      if (carbonToNitrogen === null || kind === 'neutral') continue;
      expect(kind, code).toBe(carbonToNitrogen.typical < 30 ? 'nitrogen' : 'carbon');
    }
  });

  it('gives neither nitrogen nor carbon to what only adds dry matter', () => {
    const inert = startingMaterials.filter(({ kind }) => kind === 'mineral' || kind === 'inert-carbon');
    expect(inert.map(({ code }) => code).sort()).toEqual([
      'biochar',
      'egg-shells',
      'garden-soil',
      'wood-ash',
    ]);
    for (const { code, nitrogenPercentDry, carbonPercentDry, carbonToNitrogen } of inert) {
      expect([nitrogenPercentDry, carbonPercentDry, carbonToNitrogen], code).toEqual([null, null, null]);
    }
    expect(material('water').moisturePercent!.typical).toBe(100);
  });

  it('marks what may carry herbicide, slow a batch or harm somebody', () => {
    const marked = {
      'herbicide-risk': [
        'grass-clippings',
        'hay',
        'straw-wheat',
        'straw-oat',
        'horse-manure-straw',
        'cow-manure',
      ],
      'animal-product': ['meat-scraps', 'fish-scraps', 'dairy', 'cooking-oil'],
      'raw-manure': ['chicken-litter', 'rabbit-manure', 'sheep-manure'],
      'wood-dust': ['sawdust', 'wood-chips', 'wood-shavings'],
      citrus: ['citrus-peel'],
      allium: ['onions', 'garlic'],
      salty: ['seaweed'],
      caustic: ['wood-ash'],
    };
    for (const [trait, codes] of Object.entries(marked)) {
      for (const code of codes) expect(material(code).traits, code).toContain(trait);
    }
  });
});

describe('the page of sources', () => {
  const page = readFileSync(new URL('../../../docs/sources.md', import.meta.url), 'utf8').replace(
    /\s+/g,
    ' ',
  );
  const number = (value: number) => value.toLocaleString('en-US', { maximumFractionDigits: 3 });

  it('counts the figures as they are', () => {
    const count = (checked: string) => known.filter(({ verification }) => verification === checked).length;
    expect(page).toContain(`${startingMaterials.length} materials`);
    expect(page).toContain(`${known.length} figures of them`);
    expect(page).toContain(
      `${count('verified')} verified, ${count('mirror')} mirror, ${count('secondary')} secondary, ` +
        `${count('derived')} derived, ${count('from-memory')} from memory`,
    );
  });

  it('has every material with its typical figures', () => {
    const figures = [
      'nitrogenPercentDry',
      'carbonToNitrogen',
      'ashPercentDry',
      'moisturePercent',
      'bulkDensityKgM3',
    ];
    for (const row of startingMaterials) {
      const typical = figures.map((name) => row[name as MaterialFigure]?.typical ?? null);
      const cells = new RegExp(
        `\\| ${row.name} \\| ([^|]+)\\| ([^|]+)\\| ([^|]+)\\| ([^|]+)\\| ([^|]+)\\|`,
      ).exec(page);
      const told = cells?.slice(1).map((cell) => cell.trim().split(' ')[0]);
      expect(told, row.code).toEqual(typical.map((value) => (value === null ? '–' : number(value))));
    }
  });
});

// Published figures worked out by hand, with their source beside each.
describe('figures derived from food tables', () => {
  it('takes nitrogen from protein and carbon from ash', () => {
    // USDA SR28, 09216 orange peel, raw: water 72.5, protein 1.5, ash 0.8 of 100 g; 0.24 g N and 0.8 g ash in 27.5 g.
    // 09156 lemon peel, raw: water 81.6, protein 1.5, ash 0.6; 0.24 g N and 0.6 g ash in 18.4 g.
    const peel = material('citrus-peel');
    expect(peel.nitrogenPercentDry).toMatchObject({ min: 0.87, max: 1.3, verification: 'derived' });
    expect(peel.ashPercentDry).toMatchObject({ min: 2.9, max: 3.3 });
    // (100 − 2.909) / 1.8 / 0.8727 = 61.8 and (100 − 3.261) / 1.8 / 1.3043 = 41.2; of the middle, (100 − 3.1) / 1.8 / 1.085
    expect(peel.carbonToNitrogen).toMatchObject({ min: 41.2, max: 61.8, typical: 49.6 });
  });

  it('takes the moisture of coffee and tea from what is known of a filter and of a feed', () => {
    // Barista Hustle, "Beverage Weight": 1 g of coffee holds 2 to 2.5 g of water; so 2 of 3 g and 2.5 of 3.5 g are water.
    const coffee = material('coffee-grounds').moisturePercent!;
    expect(coffee.min).toBeCloseTo((2 / 3) * 100, 1);
    expect(coffee.max).toBeCloseTo((2.5 / 3.5) * 100, 1);
    // Asian-Australas. J. Anim. Sci. 27(7), 937–945 (2014), Table 1: dry matter of green and black tea by-product 196 and
    // 183 g/kg, crude protein of the green one 292 g/kg of dry matter.
    const tea = material('tea-leaves');
    expect(tea.moisturePercent).toMatchObject({ min: 100 - 19.6, max: 100 - 18.3 });
    expect(tea.nitrogenPercentDry!.max).toBeCloseTo(29.2 / 6.25, 2);
  });

  it('reaches down to chips of green wood for the density of tree trimmings', () => {
    // Oregon DEQ: green wood chips 473 lb/yd³, at 0.593276 kg/m³ each.
    expect(material('tree-trimmings').bulkDensityKgM3!.min).toBeCloseTo(473 * 0.593276, 0);
  });

  it('keeps the range of densities of food scraps as published', () => {
    // 396 lb/yd³ (ENERGY STAR help) and 1,504 lb/yd³ (MassDEP), at 0.593276 kg/m³ each.
    const density = material('food-scraps').bulkDensityKgM3!;
    expect(density.min).toBeCloseTo(396 * 0.593276, 0);
    expect(density.max).toBeCloseTo(1504 * 0.593276, 0);
  });

  it('knows of fat what its formula says', () => {
    // Triolein, C57H104O6: 57 × 12.011 of 885.45 g/mol.
    const mass = 57 * 12.011 + 104 * 1.008 + 6 * 15.999;
    expect(material('cooking-oil').carbonPercentDry!.typical).toBeCloseTo((57 * 12.011 * 100) / mass, 1);
  });
});
