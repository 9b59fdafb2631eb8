/**
 * Metals, mg/kg dry matter. 40 CFR 503.13 Tables 3 and 1 (law.cornell.edu in part; Walsh 1995; hindawi.com/journals/aess/
 * 2012/201462) and 14 CCR 17868.2 Table 3: read. CCME 2005 category A (copper and zinc read in Solid Waste & Recycling,
 * the rest from memory) and B, and PAS 100: from memory.
 */
import { describe, expect, it } from 'vitest';
import { assessSample, parameters } from '#libs/process';
import { result, under } from './read.js';

const metals = 'arsenic cadmium chromium cobalt copper lead mercury molybdenum nickel selenium zinc'.split(
  ' ',
);

/** In the order of `metals`; null where the table has no limit. */
const tables: Record<string, (number | null)[]> = {
  'us-503-13-table-3': [41, 39, null, null, 1500, 300, 17, null, 420, 100, 2800],
  'us-503-13-table-1': [75, 85, null, null, 4300, 840, 57, 75, 420, 100, 7500],
  'ca-17868-2': [41, 39, null, null, 1500, 300, 17, null, 420, 100, 2800],
  'ccme-2005-a': [13, 3, 210, 34, 400, 150, 0.8, 5, 62, 2, 700],
  'ccme-2005-b': [75, 20, 1060, 150, 757, 500, 5, 20, 180, 14, 1850],
  'pas-100': [null, 1.5, 100, null, 200, 200, 1, null, 50, null, 400],
};

const rows = Object.entries(tables).flatMap(([table, limits]) =>
  limits.map((limit, at) => [table, metals[at] ?? '', limit] as const),
);

describe('metals', () => {
  it.each(rows)('%s, %s: %s mg/kg', (table, metal, limit) => {
    const code = `${table}-${metal}`;
    if (limit === null) {
      const tables = assessSample([result(metal, 1, 'mg/kg dry')]).map((finding) => finding.table);
      expect(tables).not.toContain(code);
      return;
    }
    const state = (value: number, unit = 'mg/kg dry') => under(code, result(metal, value, unit)).state;
    expect([state(limit), state(limit * 1.0001)]).toEqual(['met', 'unmet']);
    expect([state(limit * 1000, 'ug/kg dry'), state(limit * 1000 + 1, 'ug/kg dry')]).toEqual([
      'met',
      'unmet',
    ]);
  });

  it('are all parameters, and each says how far its limit was checked', () => {
    expect(parameters.map(({ key }) => key)).toEqual(expect.arrayContaining(metals));
    const status = (table: string, metal: string) =>
      under(`${table}-${metal}`, result(metal, 1, 'mg/kg dry')).textStatus;
    expect(status('ccme-2005-a', 'copper')).toBe('secondary');
    expect(status('ccme-2005-a', 'lead')).toBe('from-memory');
    expect(status('us-503-13-table-3', 'lead')).toBe('verified');
  });
});
