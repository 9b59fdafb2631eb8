/**
 * Source: Town of Cary, North Carolina, open-data set "food-waste-pilot", and the Food Waste line of the Town's annual report to
 * the State (NC DEQ Local Government Annual Report) for July 2021 to June 2022: 13.94 short tons. The weighings of today
 * come to 13.97; the difference is one row, 59.0 lb of 2022-02-09. The data is read from outside the project.
 */
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { DiversionReport } from '#libs/documents';
import { FIRST, startApi, type TestApi } from '../../support/api.js';
import { made } from '../../support/programme.js';
import { hasOpenData, openData, openDataText } from '../accounting/open-data.js';

const hauls = 'cary_food_waste_dropoff_2022-2026.csv';
const filed = 'cary_filed_state_report_food_waste.csv';
const LATE = "2022-02-09,Citizen's Convenience Center,59.0";

describe.runIf(hasOpenData(hauls, filed))('the first report of the Town of Cary', () => {
  let api: TestApi;
  let report: { id: string };
  let importRows: (csv: string) => Promise<void>;
  const read = async (version: number): Promise<DiversionReport> =>
    (
      await api.call('GET', `/diversion-reports/${report.id}.json?version=${version}`, {
        as: api.coordinator,
      })
    ).body;

  beforeAll(async () => {
    api = await startApi();
    const town = await made(api, '/jurisdictions', { name: 'The town', reportingYearStart: '07-01' });
    const place = {
      jurisdictionId: town.id,
      timeZone: 'America/New_York',
      takesDropOffs: true,
      runsBatches: false,
    };
    const hub = await made(api, '/sites', { ...place, code: 'A', name: 'Hub A', openedOn: '2022-02-02' });
    importRows = async (csv) => {
      await made(api, '/imports', {
        ...{ kind: 'drop-offs', fileName: hauls, csv, dryRun: false, massUnit: 'lb' },
        columns: { date: 'date', site: 'site', mass: 'lbs_collected' },
        sites: [{ name: "Citizen's Convenience Center", siteId: hub.id }],
        defaults: { material: 'food-scraps', depositor: 'public-works' },
      });
    };
    const lines = openDataText(hauls).split(/\r?\n/);
    const ofYear = lines.filter((line) => /^(date|2021-|2022-0[1-6])/.test(line) && line !== LATE);
    await importRows(`${ofYear.join('\n')}\n`);
    const body = { jurisdictionId: town.id, yearOf: '2022-01-01', password: FIRST.password };
    report = await made(api, '/diversion-reports', body);
  });
  afterAll(() => api.stop());

  it('prints what was filed: 13.94 short tons', async () => {
    const first = await read(1);
    expect(first.printed.acceptedShortTons).toBe('13.94');
    const line = openData(filed).find((row) => row['fiscal_year'] === '21-22')!;
    expect(first.printed.acceptedShortTons).toBe(line['filed_short_tons']);
    expect(first.rows.count).toBe(Number(line['weighing_rows']) - 1);
  });

  it('prints 13.97 once the row is there, and names that row as all that is other', async () => {
    await importRows(`date,site,lbs_collected\n${LATE}\n`);
    const reason = 'A row of February was left out';
    await made(api, `/diversion-reports/${report.id}/versions`, { reason, password: FIRST.password });
    const second = await read(2);
    expect(second.printed.acceptedShortTons).toBe('13.97');
    expect(second.amends).toMatchObject({ version: 1, reason });
    expect(second.amends!.changes).toMatchObject([
      {
        ...{ change: 'added', kind: 'drop-off', occurredAt: '2022-02-09T17:00:00.000Z', site: 'A' },
        ...{ beforeKg: null, afterKg: 26.762, reason: null },
      },
    ]);
    expect((await read(1)).printed.acceptedShortTons).toBe('13.94');
  });
});
