import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { DiversionReport } from '#libs/documents';
import { startApi, type TestApi } from '../support/api.js';
import { made, makeProgramme, PASSWORD, type Programme } from '../support/programme.js';
import { issueBody } from '../support/reports.js';
import { makeYard, type Yard } from '../support/yard-work.js';

const kg = (value: number) => ({ value, unit: 'kg' });

/** One batch of two towns: 300 kg of Lark Hollow and 100 kg of Thistle Ford, chips, and residue of 10 kg. */
describe('the residue in a report', () => {
  let api: TestApi;
  let programme: Programme;
  let yard: Yard;
  let batch: string;
  let report: string;
  const lots: string[] = [];
  let screening: { id: string };

  const post = <T = { id: string }>(path: string, body: object): Promise<T> =>
    made<T>(api, path, body, programme.people.coordinator.token);
  const screen = (residue: number) =>
    post(`/batches/${batch}/screenings`, {
      ...{
        occurredAt: '2026-05-10T15:00:00Z',
        compost: kg(100),
        residue: kg(residue),
        residueWentTo: 'landfill',
      },
    });
  const issueAgain = (reason: string) =>
    post(`/diversion-reports/${report}/versions`, { reason, password: PASSWORD });
  const read = async (path = '.json') =>
    api.call('GET', `/diversion-reports/${report}${path}`, { as: programme.people.coordinator.token });
  const document = async (): Promise<DiversionReport> => (await read()).body;
  const kinds = async (): Promise<string[]> =>
    (await read('/rows.csv')).text
      .trimEnd()
      .split('\r\n')
      .slice(1)
      .map((line) => line.split(','))
      .map(([kind, , , , , , material, , , , massG]) => `${kind!} ${material!} ${massG!}`);

  beforeAll(async () => {
    api = await startApi();
    programme = await makeProgramme(api);
    yard = await makeYard(api, programme);
    const { larkHollow, thistleFord } = programme.jurisdictions;
    batch = ((await yard.begin()) as { id: string }).id;
    const lot = { siteId: programme.hub1.id, occurredAt: '2026-03-02T16:00:00Z', depositor: 'household' };
    for (const [jurisdictionId, mass] of [
      [larkHollow.id, 200],
      [larkHollow.id, 100],
      [thistleFord.id, 100],
    ] as const) {
      const weight = { net: kg(mass) };
      lots.push((await post('/drop-offs', { ...lot, material: 'food-scraps', jurisdictionId, weight })).id);
    }
    const at = (day: string) => ({ occurredAt: `${day}T15:00:00Z` });
    const items = lots.map((dropOffId) => ({ dropOffId }));
    await post(`/batches/${batch}/assignments`, { ...at('2026-03-04'), items });
    const chips = { from: 'stock', material: 'wood-chips', mass: kg(100) };
    await post(`/batches/${batch}/amendments`, { ...at('2026-03-04'), ...chips });
    await post(`/batches/${batch}/amendments`, {
      ...at('2026-03-04'),
      from: 'water',
      volume: { value: 50, unit: 'L' },
    });
    await post(`/batches/${batch}/stage`, { ...at('2026-03-05'), to: 'active' });
    await post(`/batches/${batch}/stage`, { ...at('2026-04-20'), to: 'curing' });
    screening = await screen(10);
    report = (await post('/diversion-reports', issueBody(programme))).id;
  });
  afterAll(() => api.stop());

  it('rests on rows of all that went into its batch, and of other towns on their sum', async () => {
    const rows = await kinds();
    expect(rows.sort()).toEqual(
      [
        ...['drop-off food-scraps 200000', 'drop-off food-scraps 100000'],
        ...['assignment food-scraps 200000', 'assignment food-scraps 100000', 'others mixed 100000'],
        ...['amendment wood-chips 100000', 'screening residue 10000'],
      ].sort(),
    );
    expect((await read('/rows.csv')).text).not.toContain(lots[2]!);
    const { total } = (await document()).figures;
    expect(total.residueKg).toBeLessThan(10);
    expect(total.divertedKg).toBeCloseTo(total.acceptedKg - total.residueKg, 9);
    expect((await document()).facilities).toMatchObject(
      [{ code: 'MB' }, { code: 'HS', residue: [{ massKg: 10 }] }].toSorted((a, b) =>
        a.code < b.code ? -1 : 1,
      ),
    );
  });

  it('is listed when it was weighed again, and what had led to it is not', async () => {
    const before = await document();
    const reason = { reason: 'Weighed with its tote' };
    await api.call('POST', `/batches/${batch}/screenings/${screening.id}/void`, {
      ...{ as: yard.manager.token, body: reason },
    });
    screening = await screen(8);
    await issueAgain('The residue was weighed again');
    const { amends, figures } = await document();
    expect(amends!.changes).toMatchObject(
      [
        {
          change: 'removed',
          kind: 'screening',
          beforeKg: 10,
          afterKg: null,
          reason: 'Weighed with its tote',
        },
        {
          change: 'added',
          kind: 'screening',
          beforeKg: null,
          afterKg: 8,
          reason: null,
          sourceId: screening.id,
        },
      ].map((line) => expect.objectContaining(line) as object),
    );
    expect(amends!.changes).toHaveLength(2);
    expect(figures.total.residueKg).toBeCloseTo(before.figures.total.residueKg * 0.8, 3);
    const residue = amends!.totals.find(({ figure }) => figure === 'residue')!;
    expect(residue).toEqual({
      ...{ figure: 'residue', before: before.figures.total.residueKg, after: figures.total.residueKg },
      unit: 'kg',
    });
  });

  it('is shared anew when a lot turns out to be of another town, and every line of that is listed', async () => {
    await post(`/drop-offs/${lots[2]!}/corrections`, {
      ...{ occurredAt: '2026-03-02T16:00:00Z', material: 'food-scraps', depositor: 'household', rejects: [] },
      ...{ weight: { net: kg(100) }, jurisdictionId: programme.jurisdictions.larkHollow.id },
      reason: 'It was of Lark Hollow',
    });
    await issueAgain('A lot was of another town');
    const { amends } = await document();
    const told = amends!.changes.map(({ change, kind, beforeKg, afterKg, reason }) => [
      ...[change, kind, beforeKg, afterKg, reason],
    ]);
    expect(told.toSorted()).toEqual(
      [
        ['added', 'assignment', null, 100, 'It was of Lark Hollow'],
        ['added', 'drop-off', null, 100, 'It was of Lark Hollow'],
        ['removed', 'others', 100, null, null],
      ].toSorted(),
    );
  });

  it('does not list what went into its batch again where only the depositor of a lot is another', async () => {
    await post(`/drop-offs/${lots[0]!}/corrections`, {
      ...{ occurredAt: '2026-03-02T16:00:00Z', material: 'food-scraps', depositor: 'school', rejects: [] },
      ...{ weight: { net: kg(200) }, jurisdictionId: programme.jurisdictions.larkHollow.id },
      reason: 'The school brought it',
    });
    await issueAgain('A depositor was another');
    const { amends } = await document();
    expect(amends!.changes).toMatchObject([
      { change: 'corrected', kind: 'drop-off', sourceId: lots[0], what: ['depositor'], afterKg: 200 },
    ]);
    expect(amends!.totals).toMatchObject([
      // three lots of one kind of depositor and one moment were one visit, and now are two
      { figure: 'visits', before: 1, after: 2 },
      { figure: 'by depositor: household: accepted', before: 400, after: 200 },
      { figure: 'by depositor: school: visits', before: null, after: 1 },
      { figure: 'by depositor: school: accepted', before: null, after: 200 },
    ]);
  });

  it('is the whole of it where residue is booked to the town in which the yard stands', async () => {
    await post(`/diversion-reports/${report}/versions`, {
      ...{ reason: 'The State asks for it so', residueTo: 'site', password: PASSWORD },
    });
    const { figures, methods } = await document();
    expect(figures.total.residueKg).toBe(8);
    expect(methods.map(({ title }) => title)).toContain('Residue, of the site');
  });

  it('has the share that was estimated to the tenth of a per cent, as it is printed', async () => {
    await post('/drop-offs', {
      ...{ siteId: programme.hub1.id, occurredAt: '2026-03-02T16:00:00Z', depositor: 'household' },
      ...{ jurisdictionId: programme.jurisdictions.larkHollow.id, material: 'food-scraps' },
      volume: { value: 17, unit: 'L' },
    });
    await issueAgain('A bucket was not typed in');
    const { estimatedShare, figures } = await document();
    const { estimatedKg, acceptedKg } = figures.total;
    const share = estimatedKg / acceptedKg;
    expect(share).toBeGreaterThan(0.001);
    expect(estimatedShare).not.toBe(share);
    expect(estimatedShare).toBe(Number(share.toFixed(3)));
  });
});
