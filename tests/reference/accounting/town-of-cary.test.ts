/**
 * Source: Town of Cary, North Carolina, open-data set "food-waste-pilot" (weighed food-scrap hauls, pounds; municipal public
 * record), and the Food Waste line of the Town's annual reports to the State (NC DEQ Local Government Annual Report).
 * The data is read from outside the project.
 */
import { describe, expect, it } from 'vitest';
import { printShortTons, reportingYear } from '#libs/accounting';
import { formatMass, gToUnit, massToG, sumG } from '#libs/quantities';
import { hasOpenData, openData } from './open-data.js';

const hauls = 'cary_food_waste_dropoff_2022-2026.csv';
const filed = 'cary_filed_state_report_food_waste.csv';

describe.runIf(hasOpenData(hauls, filed))('Town of Cary, food waste drop-off', () => {
  /** One row is dated before its site opened; the Town's own sums leave it out. */
  const beforeOpening = (row: Record<string, string>): boolean =>
    row['date'] === '2022-08-25' && row['lbs_collected'] === '664.8';

  const lotsG = (firstDay: string): number[] =>
    openData(hauls)
      .filter((row) => reportingYear('07-01', row['date']!).from === firstDay && !beforeOpening(row))
      .map((row) => massToG({ value: Number(row['lbs_collected']), unit: 'lb' }));

  it('July 2023 to June 2024: 219 lots, 148,466.7 lb, 74.23 short tons as filed', () => {
    const lots = lotsG('2023-07-01');
    expect(lots).toHaveLength(219);
    expect(formatMass(sumG(lots), 'lb', 1)).toBe('148466.7');
    expect(printShortTons(sumG(lots))).toBe('74.23');
    const line = openData(filed).find((row) => row['fiscal_year'] === '23-24')!;
    expect(printShortTons(sumG(lots))).toBe(line['filed_short_tons']);
  });

  it('the same year drifts when every row is rounded first: to 74.29 half up, to 74.28 half to even', () => {
    // One row, 890.0 lb = 0.445 short tons, is an exact tie, hence the two answers.
    const lots = lotsG('2023-07-01');
    const sum = (rows: readonly number[]): number => rows.reduce((total, row) => total + row, 0);
    const tenthsOfPound = lots.map((massG) => Math.round(gToUnit(massG, 'lb') * 10));
    expect(sum(tenthsOfPound.map((tenths) => Math.floor((tenths + 100) / 200)))).toBe(7_429);
    expect(sum(lots.map((massG) => Math.round(Number(printShortTons(massG)) * 100)))).toBe(7_428);
  });

  it('every reporting year agrees with the sum of its weighings to a thousandth of a ton', () => {
    const years = openData(filed);
    expect(years).toHaveLength(4);
    for (const year of years) {
      const lots = lotsG(year['period_start']!);
      expect(lots).toHaveLength(Number(year['weighing_rows']));
      const tons = Number(formatMass(sumG(lots), 'short-ton', 4));
      expect(Math.abs(tons - Number(year['sum_of_weighings_short_tons']))).toBeLessThan(0.001);
    }
  });
});
