import { parse } from 'csv-parse/sync';
import { v7 } from 'uuid';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { sumG } from '#libs/quantities';
import { startApi, type TestApi } from '../support/api.js';
import { made, makeProgramme, type Programme } from '../support/programme.js';
import { textOf } from '../unit/documents/programs.js';
import { lotAtHub1, makeYard, putRelease, sqlOf, type Yard } from '../support/yard-work.js';

const kg = (value: number) => ({ value, unit: 'kg' });
const gramsOf = (list: { massKg: number }[]) => sumG(list.map(({ massKg }) => Math.round(massKg * 1000)));

/**
 * Hay of 100 kg that turns out to carry herbicide. A: 80 kg of it with 320 kg of scraps; its 100 kg of overs go into B, with
 * 400 kg of scraps; C, with 20 kg of the hay and 80 kg of chips, is put into B; D gets 50 kg of the overs of B.
 */
describe('hay that turns out to carry herbicide', () => {
  let api: TestApi;
  let programme: Programme;
  let yard: Yard;
  let manager: string;
  let operator: string;
  const batch: Record<'A' | 'B' | 'C' | 'D', { id: string; code: string }> = {} as never;
  let hay: string;
  let scraps: string;
  const handed: Record<string, string> = {};

  const post = <T = any>(path: string, body: object) => made<T>(api, path, body, manager);
  const get = (path: string, as = operator) => api.call('GET', path, { as });
  const put = (id: string, dropOffId: string, mass: number) =>
    post(`/batches/${id}/assignments`, { items: [{ dropOffId, mass: kg(mass) }] });
  const add = (id: string, body: object) => post(`/batches/${id}/amendments`, body);
  const handOut = async (id: string, mass: number, body: object = {}) =>
    (
      await post<{ id: string }>(`/batches/${id}/distributions`, {
        ...{ recipient: 'school', use: 'vegetable-beds', mass: kg(mass) },
        ...body,
      })
    ).id;

  beforeAll(async () => {
    api = await startApi();
    programme = await makeProgramme(api);
    yard = await makeYard(api, programme);
    manager = yard.manager.token;
    operator = yard.operator.token;
    hay = await lotAtHub1(api, programme, 100_000, { material: 'hay' });
    scraps = await lotAtHub1(api, programme, 1_000_000);
    for (const name of ['A', 'B', 'C', 'D'] as const) batch[name] = await yard.begin();
    const { A, B, C, D } = batch;
    await put(A.id, hay, 80);
    await put(A.id, scraps, 320);
    await add(A.id, { from: 'water', mass: kg(50) });
    await yard.enter(A.id, 'active', 'curing');
    await post(`/batches/${A.id}/screenings`, {
      compost: kg(120),
      overs: kg(100),
      compostVolume: { value: 240, unit: 'L' },
    });
    await putRelease(api, yard.manager.id, A.id);
    handed['first'] = await handOut(A.id, 30, { note: '=HYPERLINK("beds")' });

    await put(B.id, scraps, 400);
    await add(B.id, { from: 'overs', batchId: A.id, mass: kg(100) });
    await put(C.id, hay, 20);
    await add(C.id, { from: 'stock', material: 'wood-chips', mass: kg(80) });
    await post(`/batches/${B.id}/merges`, { fromBatchId: C.id, mass: kg(100) });
    await yard.enter(B.id, 'active', 'curing');
    await post(`/batches/${B.id}/screenings`, { compost: kg(200), overs: kg(60) });

    await put(D.id, scraps, 150);
    await add(D.id, { from: 'overs', batchId: B.id, mass: kg(50) });
    await putRelease(api, yard.manager.id, B.id);
    handed['second'] = await handOut(B.id, 45, { recipient: 'household', use: 'lawns' });
  });
  afterAll(() => api.stop());

  it('is followed through overs and a merge to every batch and both distributions', async () => {
    const { status, body } = await get(`/drop-offs/${hay}/trace`);
    expect(status).toBe(200);
    expect(body.dropOff).toMatchObject({
      acceptedKg: 100,
      inBatchesKg: 100,
      inNoBatchKg: 0,
      elsewhere: null,
    });
    const { A, B, C, D } = batch;
    // Of A a fifth is hay; of B 20 kg by the overs and 20 kg by the merge, of 600 kg.
    expect(body.batches).toMatchObject([
      {
        code: A.code,
        steps: 0,
        inputKg: 400,
        ofItKg: 80,
        sharePercent: 20,
        ways: [],
        compostLeftKg: 90,
        oversLeftKg: 0,
      },
      { code: C.code, steps: 0, stage: 'merged', inputKg: 100, ofItKg: 20, sharePercent: 20 },
      {
        code: B.code,
        steps: 1,
        inputKg: 600,
        ofItKg: 40,
        sharePercent: 6.667,
        compostLeftKg: 155,
        oversLeftKg: 10,
      },
      { code: D.code, steps: 2, inputKg: 200, ofItKg: 3.333, sharePercent: 1.667, onHold: false },
    ]);
    expect(body.batches[2].ways).toEqual([
      { kind: 'overs', fromBatchId: A.id, fromBatch: A.code, massKg: 100, ofItKg: 20 },
      { kind: 'merge', fromBatchId: C.id, fromBatch: C.code, massKg: 100, ofItKg: 20 },
    ]);
    expect(body.batches[3].ways).toMatchObject([{ fromBatch: B.code, massKg: 50, ofItKg: 3.333 }]);
    expect(body.distributions).toMatchObject([
      { id: handed['first'], batch: A.code, recipient: 'school', massKg: 30, ofItKg: 6, sharePercent: 20 },
      { id: handed['second'], batch: B.code, use: 'lawns', massKg: 45, ofItKg: 3, sharePercent: 6.667 },
    ]);
    expect(body).toMatchObject({ handedOutKg: 75, handedOutOfItKg: 9 });
  });

  it('says what is taken for granted, and whom to ask', async () => {
    const { body } = await get(`/drop-offs/${hay}/trace`);
    expect(body.assumptions.join(' ')).toMatch(/mixed evenly.*wet mass.*water not counted/);
    const cautions = body.cautions.map(({ text }: { text: string }) => text).join(' ');
    expect(cautions).toMatch(/Clopyralid.*grow peas or beans.*local extension.*laboratory/s);
  });

  it('is found from what was handed out, to the gram, with all else it was made of', async () => {
    const { body } = await get(`/distributions/${handed['second']}/trace`);
    expect(body).toMatchObject({
      batch: batch.B.code,
      massKg: 45,
      ledFrom: [batch.A.code, batch.C.code].sort(),
    });
    expect(body.sources).toMatchObject([
      // 400 kg and 80 kg of the overs, of 600 kg.
      { kind: 'drop-off', id: scraps, material: 'food-scraps', massKg: 36, sharePercent: 80, site: 'QS' },
      { kind: 'stock', id: null, material: 'wood-chips', massKg: 6 },
      { kind: 'drop-off', id: hay, material: 'hay', massKg: 3, jurisdiction: 'Town of Lark Hollow' },
    ]);
    expect(gramsOf(body.sources)).toBe(45_000);
  });

  it('has the same part in a distribution from either end, whatever the distribution', async () => {
    const all = (await get(`/batches/${batch.A.id}/trace`)).body.distributions as { id: string }[];
    expect(all).toHaveLength(2);
    for (const { id } of all) {
      const { sources } = (await get(`/distributions/${id}/trace`)).body;
      for (const source of sources.filter(({ kind }: { kind: string }) => kind === 'drop-off')) {
        const forward = (await get(`/drop-offs/${source.id}/trace`)).body.distributions;
        expect(forward.find((one: { id: string }) => one.id === id).ofItKg).toBe(source.massKg);
      }
    }
  });

  it('may be traced by its batch: on to where that went, back to what it was made of', async () => {
    const { body } = await get(`/batches/${batch.B.id}/trace`);
    expect(body).toMatchObject({ code: batch.B.code, inputKg: 600, lesserSources: 0 });
    expect(body.batches).toMatchObject([
      { code: batch.B.code, steps: 0, ofItKg: 600, sharePercent: 100 },
      { code: batch.D.code, steps: 1, ofItKg: 50, sharePercent: 25 },
    ]);
    expect(body.distributions).toMatchObject([{ id: handed['second'], ofItKg: 45, sharePercent: 100 }]);
    expect(body.sources.map(({ massKg }: { massKg: number }) => massKg)).toEqual([480, 80, 40]);
    const empty = await yard.begin();
    const nothing = (await get(`/batches/${empty.id}/trace`)).body;
    expect(nothing).toMatchObject({ inputKg: 0, sources: [], distributions: [] });
    expect(nothing.batches).toMatchObject([{ id: empty.id, ofItKg: 0, sharePercent: null }]);
  });

  it('is told of where nothing went, and of what still waits', async () => {
    const waiting = await lotAtHub1(api, programme, 7_000);
    const { body } = await get(`/drop-offs/${waiting}/trace`);
    expect(body).toMatchObject({ batches: [], distributions: [], handedOutKg: 0 });
    expect(body.dropOff).toMatchObject({ inBatchesKg: 0, inNoBatchKg: 7 });
  });

  it('leaves out what was taken back', async () => {
    const id = await handOut(batch.B.id, 1);
    await api.call('POST', `/batches/${batch.B.id}/distributions/${id}/void`, {
      as: manager,
      body: { reason: 'Typed twice' },
    });
    expect((await get(`/distributions/${id}/trace`)).status).toBe(404);
    expect((await get(`/drop-offs/${hay}/trace`)).body.distributions).toHaveLength(2);
  });

  it('is listed as a table that a spreadsheet opens, and no formula of a note runs in it', async () => {
    const answer = await get(`/drop-offs/${hay}/recall.csv`);
    expect(answer.headers['content-type']).toBe('text/csv; charset=utf-8; header=present');
    expect(answer.headers['content-disposition']).toBe(`attachment; filename="recall-drop-off-${hay}.csv"`);
    expect(answer.text.split('\r\n')).toHaveLength(8);
    const rows = parse<Record<string, string>>(answer.text, { columns: true });
    expect(rows.map(({ kind, batch: code, of_it_kg }) => [kind, code, of_it_kg])).toEqual([
      ['batch', batch.A.code, '80'],
      ['batch', batch.C.code, '20'],
      ['batch', batch.B.code, '40'],
      ['batch', batch.D.code, '3.333'],
      ['distribution', batch.A.code, '6'],
      ['distribution', batch.B.code, '3'],
    ]);
    expect(rows[2]).toMatchObject({
      ...{ stage: 'released', on_hold: 'false', mass_kg: '600', compost_left_kg: '155', recipient: '' },
      came_by: `overs of ${batch.A.code}, 100 kg; all of ${batch.C.code}, 100 kg`,
    });
    // What is printed on the bag, so that it can be held against the list.
    expect(rows.slice(4).map(({ code }) => code)).toEqual([`${batch.A.code}/1`, `${batch.B.code}/1`]);
    expect(rows[4]).toMatchObject({
      recipient: 'school',
      mass_kg: '30',
      note: `'=HYPERLINK("beds")`,
      on_hold: '',
    });
    const ofBatch = parse<Record<string, string>>((await get(`/batches/${batch.B.id}/recall.csv`)).text, {
      columns: true,
    });
    expect(ofBatch.map(({ batch: code, share_percent }) => [code, share_percent])).toEqual([
      [batch.B.code, '100'],
      [batch.D.code, '25'],
      [batch.B.code, '100'],
    ]);
  });

  it('is listed where it waits, on the road and at the yard, while it is in no batch', async () => {
    const lot = await lotAtHub1(api, programme, 30_000, { material: 'hay' });
    const lines = async () => {
      const { text } = await get(`/drop-offs/${lot}/recall.csv`);
      const rows = parse<Record<string, string>>(text, { columns: true });
      return rows.map(({ kind, site, mass_kg }) => [kind, site, mass_kg]);
    };
    expect(await lines()).toEqual([['waiting', 'Quill Street hub', '30']]);
    const lots = { dropOffIds: [lot] };
    const haul = await post('/hauls', { siteId: programme.hub1.id, toSiteId: yard.yard.id, lots });
    expect(await lines()).toEqual([['on-the-road', 'Heron Street yard', '30']]);
    await post(`/hauls/${haul.id as string}/receipt`, {});
    expect(await lines()).toEqual([['waiting', 'Heron Street yard', '30']]);
    const words = textOf((await get(`/drop-offs/${lot}/recall.pdf`)).bytes);
    if (words !== null)
      expect(words.replaceAll(/\s+/g, ' ')).toContain('30 kg of it waits at Heron Street yard');
    const away = await lotAtHub1(api, programme, 40_000, { material: 'hay' });
    await post('/hauls', {
      ...{ siteId: programme.hub1.id, elsewhere: 'Marsh End Farm', lots: { dropOffIds: [away] } },
    });
    const { text } = await get(`/drop-offs/${away}/recall.csv`);
    expect(text.split('\r\n')[1]).toMatch(/^elsewhere,,Marsh End Farm,/);
  });

  it('is printed with the cautions, what is taken for granted and which batches are not held', async () => {
    await post(`/batches/${batch.D.id}/holds`, { reason: 'Overs with hay of it' });
    const answer = await get(`/drop-offs/${hay}/recall.pdf`);
    expect(answer.headers['content-type']).toBe('application/pdf');
    const words = textOf(answer.bytes);
    if (words === null) return;
    expect(words).toContain(`Not on hold: ${batch.A.code}, ${batch.B.code}.`);
    expect(words).toMatch(/It came into 4 batches. It was handed out in 2 distributions/);
    expect(words).toMatch(/Herbicide.*Ask the local extension.*mixed evenly/s);
    expect(words).toMatch(/building, on/);
    expect(textOf((await get(`/batches/${batch.D.id}/recall.pdf`)).bytes)).toMatch(
      /Nothing of these batches is recorded as handed out/,
    );
  });

  it('is told to the crew of the place, and to nobody else', async () => {
    for (const path of [
      `/drop-offs/${hay}/trace`,
      `/batches/${batch.A.id}/recall.csv`,
      `/distributions/${handed['first']}/trace`,
    ]) {
      expect((await api.call('GET', path)).status).toBe(401);
      expect((await get(path, programme.people.otherManager.token)).status).toBe(403);
      expect((await get(path, programme.people.volunteer.token)).status).toBe(403);
    }
    for (const path of [
      `/drop-offs/${v7()}/trace`,
      `/batches/${v7()}/recall.pdf`,
      `/distributions/${v7()}/trace`,
    ]) {
      expect((await get(path)).status).toBe(404);
    }
  });

  it('is followed through fifty generations of overs', async () => {
    const lot = await lotAtHub1(api, programme, 50_000);
    const generations: string[] = [];
    for (let at = 0; at < 51; at += 1) generations.push(v7());
    await generationsOfOvers(api, yard, generations, lot);
    const { body } = await get(`/drop-offs/${lot}/trace`);
    expect(body.batches.map(({ id }: { id: string }) => id)).toEqual(generations);
    expect(body.batches.map(({ steps }: { steps: number }) => steps)).toEqual(generations.map((_, at) => at));
    // All that ever went in was this lot: every batch is made of nothing else.
    expect(body.batches.every(({ sharePercent }: { sharePercent: number }) => sharePercent === 100)).toBe(
      true,
    );
    const { sources } = (await get(`/batches/${generations[50]!}/trace`)).body;
    expect(sources).toMatchObject([{ id: lot, massKg: 0.5, sharePercent: 100 }]);
  });
});

/** Each batch gives half a kilogram less of its overs than it got, put straight into the database. */
async function generationsOfOvers(
  api: TestApi,
  yard: Yard,
  ids: readonly string[],
  lot: string,
): Promise<void> {
  const sql = sqlOf(api);
  const person = yard.manager.id;
  const stage = (id: string, name: string) =>
    sql.query(
      `INSERT INTO batch_stage (batch_id, stage, entered_at, recorded_by) VALUES ($1, $2, now(), $3)`,
      [id, name, person],
    );
  for (const [at, id] of ids.entries()) {
    await sql.query(
      `INSERT INTO batch (id, site_id, code, method, occurred_at, body_sha256, recorded_by)
       VALUES ($1, $2, $3, 'turned-windrow', now(), '\\x00', $4)`,
      [id, yard.yard.id, `HS-2020-${String(at).padStart(3, '0')}`, person],
    );
    await stage(id, 'building');
    const massG = at === 0 ? 50_000 : 50_500 - at * 1_000;
    if (at === 0) {
      await sql.query(
        `INSERT INTO assignment (id, batch_id, drop_off_id, mass_g, occurred_at, recorded_by) VALUES ($1, $2, $3, $4, now(), $5)`,
        [v7(), id, lot, massG, person],
      );
    } else {
      await sql.query(
        `INSERT INTO amendment (id, batch_id, occurred_at, source, from_batch_id, material_code, basis, mass_g, entered, warnings,
           body_sha256, recorded_by)
         VALUES ($1, $2, now(), 'overs', $3, 'overs', 'scale', $4, '{}', '[]', '\\x00', $5)`,
        [v7(), id, ids[at - 1], massG, person],
      );
    }
    await stage(id, 'active');
    await stage(id, 'curing');
    if (at + 1 < ids.length) {
      await sql.query(
        `INSERT INTO screening (id, batch_id, occurred_at, compost_g, overs_g, residue_g, entered, body_sha256, recorded_by)
         VALUES ($1, $2, now(), 0, $3, 0, '{}', '\\x00', $4)`,
        [v7(), id, 50_500 - (at + 1) * 1_000, person],
      );
    }
  }
}
