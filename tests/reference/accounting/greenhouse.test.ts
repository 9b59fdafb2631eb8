/**
 * Sources:
 * - US EPA WARM v15 (November 2020), Organic Materials chapter, printed with two decimals: composting of food waste -0.12,
 *   landfill 0.50; yard trimmings -0.05 and -0.20 MTCO2E per short ton (read in a second-hand copy).
 * - US EPA WARM v16 (December 2023), sheet "Summary Data" (read in a second-hand copy).
 * - IPCC 2006 Guidelines, Volume 5, Chapter 4, Table 4.1, wet weight: 4 g CH4 and 0.24 g N2O per kg (0.3 as first printed), with
 *   the GWP-100 of three Assessment Reports: AR4 25 and 298, AR5 28 and 265, AR6 27 and 273.
 * - 1 short ton = 907.18474 kg, NIST Handbook 44, Appendix C.
 */
import { describe, expect, it } from 'vitest';
import { estimateGreenhouse, greenhouseSets, type WasteCategory } from '#libs/accounting';
import { hasOpenData, openData } from './open-data.js';

const SHORT_TON_KG = 907.185; // to the gram
const aShortTonOf = (set: string, category: WasteCategory, tons = 1) =>
  estimateGreenhouse(set, [{ category, material: 'it', massKg: tons * SHORT_TON_KG }]).total;

describe('WARM v15, per short ton', () => {
  it.each([
    ['food', '-0.12', '0.50'],
    ['yard-trimmings', '-0.05', '-0.20'],
  ] as const)('%s: composting %s, landfill %s as printed', (category, composting, landfill) => {
    const total = aShortTonOf('us-epa-warm-15', category);
    expect(total.compostingTCo2e!.toFixed(2)).toBe(composting);
    expect(total.landfillTCo2e!.toFixed(2)).toBe(landfill);
  });
});

describe('WARM v16', () => {
  it('food: composting instead of landfill is 0.6536 t less per short ton', () => {
    expect(aShortTonOf('us-epa-warm-16', 'food', 1000).differenceTCo2e).toBeCloseTo(-653.597, 2);
  });

  it('yard trimmings: composting scores 0.0946 t worse than landfill, and so do leaves and branches', () => {
    expect(aShortTonOf('us-epa-warm-16', 'yard-trimmings', 1000).differenceTCo2e).toBeCloseTo(94.614, 2);
    expect(aShortTonOf('us-epa-warm-16', 'leaves', 1000).differenceTCo2e).toBeCloseTo(427.957, 2);
    expect(aShortTonOf('us-epa-warm-16', 'branches', 1000).differenceTCo2e).toBeCloseTo(430.156, 2);
  });
});

describe('IPCC 2006, per tonne of wet waste', () => {
  it.each([
    ['ipcc-2006-ar4', 171.52],
    ['ipcc-2006-ar5', 175.6],
    ['ipcc-2006-ar6', 173.52],
  ])('%s: %d kg CO2e', (set, kg) => {
    const { total } = estimateGreenhouse(set, [{ category: 'food', material: 'it', massKg: 1_000_000 }]);
    expect(total.compostingTCo2e).toBe(kg);
    expect(total.landfillTCo2e).toBeNull();
  });
});

const file = 'warm_organics_factors.csv';

describe.runIf(hasOpenData(file))('the published table of WARM factors', () => {
  const rows: Partial<Record<string, WasteCategory>> = {
    'Food Waste': 'food',
    'Yard Trimmings': 'yard-trimmings',
    Grass: 'grass',
    Leaves: 'leaves',
    Branches: 'branches',
    'Mixed Organics': 'mixed-organics',
  };

  it.each(['15', '16'])('v%s is the set to the last digit', (version) => {
    const set = greenhouseSets.find(({ code }) => code === `us-epa-warm-${version}`)!;
    const published = openData(file)
      .filter((row) => row['version'] === `WARM v${version}` && rows[row['material']!])
      .map((row) => [
        rows[row['material']!],
        { landfill: Number(row['landfill_national_avg']), composting: Number(row['compost']) },
      ]);
    const kept = Object.entries(set.byCategory).map(([category, { landfill, composting }]) => [
      category,
      { landfill: Number(landfill), composting: Number(composting) },
    ]);
    expect(Object.fromEntries(kept)).toEqual(Object.fromEntries(published));
    expect(kept).toHaveLength(version === '15' ? 5 : 6);
  });
});
