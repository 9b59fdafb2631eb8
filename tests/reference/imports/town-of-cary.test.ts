/**
 * Source: Town of Cary, North Carolina, open-data set "food-waste-pilot" (956 weighed food-scrap hauls of two drop-off sites,
 * pounds; municipal public record), and the Food Waste line of the Town's annual reports to the State (NC DEQ Local Government
 * Annual Report). The data is read from outside the project, as it is, faults included: one haul of the second site is dated a
 * year and a half before its regular ones began on 2024-01-31, 14 weigh nothing, 17 are no multiple of 0.2 lb.
 */
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { formatMass } from '#libs/quantities';
import { startApi, type TestApi } from '../../support/api.js';
import { made } from '../../support/programme.js';
import { hasOpenData, openData, openDataText } from '../accounting/open-data.js';

const hauls = 'cary_food_waste_dropoff_2022-2026.csv';
const filed = 'cary_filed_state_report_food_waste.csv';

describe.runIf(hasOpenData(hauls, filed))('the hauls of the Town of Cary, imported', () => {
  let api: TestApi;
  let jurisdictionId: string;
  let file: object;
  let report: any;

  const post = (dryRun: boolean) =>
    api.call('POST', '/imports', { as: api.coordinator, body: { ...file, dryRun } });
  const diversion = async (from: string, to: string) => {
    const query = `jurisdictionId=${jurisdictionId}&from=${from}&to=${to}`;
    const answer = await api.call('GET', `/diversion?${query}`, { as: api.coordinator });
    expect(answer.status).toBe(200);
    return answer.body;
  };
  const warned = (text: string) =>
    report.lines.filter((line: any) => line.warnings.some((warning: string) => warning.includes(text)));

  beforeAll(async () => {
    api = await startApi();
    const town = await made(api, '/jurisdictions', { name: 'The town', reportingYearStart: '07-01' });
    jurisdictionId = town.id;
    const hub = async (code: string, openedOn: string) => {
      const place = { jurisdictionId, timeZone: 'America/New_York', takesDropOffs: true, runsBatches: false };
      const site = await made(api, '/sites', { ...place, code, name: `Hub ${code}`, openedOn });
      const scale = { siteId: site.id, code: 'S-1', kind: 'scale', division: { value: 0.2, unit: 'lb' } };
      return { siteId: site.id, instrumentId: (await made(api, '/instruments', scale)).id };
    };
    file = {
      ...{ kind: 'drop-offs', fileName: hauls, csv: openDataText(hauls) },
      columns: { date: 'date', site: 'site', mass: 'lbs_collected' },
      massUnit: 'lb',
      sites: [
        { name: "Citizen's Convenience Center", ...(await hub('A', '2022-02-02')) },
        { name: 'Mills Park', ...(await hub('B', '2024-01-31')) },
      ],
      defaults: { material: 'food-scraps', depositor: 'public-works' },
    };
  });
  afterAll(() => api.stop());

  it('are told line by line before anything is kept, and then go in with their faults on record', async () => {
    const trial = await post(true);
    expect(trial.body.counts).toMatchObject({ lines: 956, new: 956, refused: 0 });
    const answer = await post(false);
    expect(answer.status).toBe(201);
    report = answer.body;
    expect(report.counts).toEqual(trial.body.counts);
    expect(report.lines).toEqual(trial.body.lines);

    expect(warned('The site opened on 2024-01-31')).toMatchObject([
      { line: 88, site: 'B', occurredAt: '2022-08-25T16:00:00Z', netKg: 301.548 },
    ]);
    expect(warned('weighs nothing')).toHaveLength(14);
    expect(warned("no multiple of the scale's division, 0.2 lb")).toHaveLength(17);
    expect(warned('says the same as line')).toHaveLength(0);
  });

  it('keep two hauls of one day and site apart', () => {
    const ofDay = report.lines.filter((line: any) => line.occurredAt?.startsWith('2024-11-01'));
    const bySite = ofDay.map(({ site, netKg }: any) => [site, netKg]);
    expect(bySite).toEqual(
      expect.arrayContaining([
        [ofDay[0].site, 218.541],
        [ofDay[0].site, 393.265],
      ]),
    );
  });

  it('come to what the Town filed: 219 lots, 148,466.7 lb, 74.23 short tons', async () => {
    const year = await diversion('2023-07-01', '2024-07-01');
    expect(year).toMatchObject({ acceptedShortTons: '74.23', estimatedShare: 0 });
    expect(year.total).toMatchObject({ lots: 219, residueKg: 0 });
    const acceptedG = Math.round(year.total.acceptedKg * 1000);
    expect(formatMass(acceptedG, 'lb', 1)).toBe('148466.7');
    // Each lot was rounded to the gram once, so the sum is off by no more than half a gram a lot.
    expect(Math.abs(acceptedG - 148_466.7 * 453.59237)).toBeLessThan(219 / 2);
    expect(year.total.divertedKg).toBe(year.total.acceptedKg);
    expect(year.byMonth.map(({ month }: any) => month)).toHaveLength(12);
    expect(year.bySite.map(({ lots }: any) => lots).reduce((sum: number, lots: number) => sum + lots)).toBe(
      219,
    );
    const line = openData(filed).find((row) => row['fiscal_year'] === '23-24')!;
    expect(year.acceptedShortTons).toBe(line['filed_short_tons']);
  });

  it('agree with the sum of the weighings in every reporting year', async () => {
    const years = openData(filed);
    expect(years).toHaveLength(4);
    for (const year of years) {
      const from = year['period_start']!;
      const to = `${Number(from.slice(0, 4)) + 1}${from.slice(4)}`;
      const { lots, acceptedKg } = (await diversion(from, to)).total;
      // The haul from before its site opened is kept here and left out there.
      const early = from === '2022-07-01' ? { lots: 1, kg: 301.548 } : { lots: 0, kg: 0 };
      expect(lots - early.lots).toBe(Number(year['weighing_rows']));
      const tons = (acceptedKg - early.kg) / 907.18474;
      expect(Math.abs(tons - Number(year['sum_of_weighings_short_tons']))).toBeLessThan(0.001);
    }
  });

  it('are known when they come again', async () => {
    const again = await post(false);
    expect(again.status).toBe(201);
    expect(again.body.counts).toMatchObject({ lines: 956, new: 0, known: 956, newKg: 0 });
    expect((await diversion('2023-07-01', '2024-07-01')).total.lots).toBe(219);
  });
});
