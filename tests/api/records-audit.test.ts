import pg from 'pg';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { canonicalJson, sealOf } from '#libs/documents';
import { Actor } from '../../apps/api/http/access/actor.js';
import { Work } from '../../apps/api/http/writes/work.js';
import { AuditSealing } from '../../apps/api/records/audit-sealing.js';
import { AuditRecords } from '../../apps/api/records/audit.records.js';
import { SealsService } from '../../apps/api/reporting/seals.service.js';
import { FIRST, startApi, type TestApi } from '../support/api.js';
import { asSuperuser } from '../support/superuser.js';

const ROUTES = [
  ['GET', '/audit'],
  ['GET', '/audit/seals'],
  ['POST', '/audit/seals'],
  ['GET', '/audit/verification'],
] as const;

describe('audit trail', () => {
  let api: TestApi;
  let wren: { id: string; token: string };
  const get = (path: string) => api.call('GET', path, { as: api.coordinator });
  const sealNow = () => api.call('POST', '/audit/seals', { as: api.coordinator });
  const verify = async () => (await get('/audit/verification')).body;

  beforeAll(async () => {
    api = await startApi();
    const jurisdiction = await api.call('POST', '/jurisdictions', {
      as: api.coordinator,
      body: { name: 'Town of Larkhollow', reportingYearStart: '07-01' },
    });
    const person = {
      email: 'wren@larkhollow.example',
      displayName: 'Wren Alder',
      password: 'ten letters or more',
      grants: [{ role: 'municipal-reader', jurisdictionId: jurisdiction.body.id }],
    };
    const added = await api.call('POST', '/people', { as: api.coordinator, body: person });
    wren = { id: added.body.id, token: await api.signIn(person.email, person.password) };
  });
  afterAll(() => api.stop());

  it.each(ROUTES)('%s %s is for the coordinator', async (method, path) => {
    expect((await api.call(method, path)).status).toBe(401);
    expect((await api.call(method, path, { as: wren.token })).status).toBe(403);
  });

  it('tells who did what, newest first, page by page', async () => {
    const all = (await get('/audit')).body.items;
    const done = all.map((event: any) => event.action);
    expect(done.slice(0, 4)).toEqual([
      'session.opened',
      'person.added',
      'jurisdiction.added',
      'session.opened',
    ]);
    expect(done.at(-1)).toBe('person.added');
    expect(all.map((event: any) => event.seq)).toEqual(
      done.map((_: string, index: number) => all[0].seq - index),
    );
    expect(all[0]).toMatchObject({ personId: wren.id, personName: 'Wren Alder', subjectKind: 'session' });
    expect(all[1]).toMatchObject({ personName: 'First coordinator', subjectId: wren.id });
    const first = (await get('/audit?limit=2')).body;
    const second = (await get(`/audit?limit=200&cursor=${first.next}`)).body;
    expect([...first.items, ...second.items]).toEqual(all);
    expect(second.next).toBeNull();
  });

  it('filters by thing, person, action and time', async () => {
    const { items } = (await get('/audit')).body;
    const actions = async (query: string) =>
      (await get(`/audit?${query}`)).body.items.map((event: any) => event.action);
    expect(await actions(`subjectId=${wren.id}`)).toEqual(['person.added']);
    expect(await actions(`personId=${wren.id}`)).toEqual(['session.opened']);
    expect(await actions('action=person.added')).toEqual(['person.added', 'person.added']);
    expect(await actions(`siteId=${wren.id}`)).toEqual([]);
    const at = encodeURIComponent(items[1].at);
    const after = items.filter((event: any) => event.at >= items[1].at).map((event: any) => event.action);
    expect(await actions(`from=${at}`)).toEqual(after);
    expect(await actions(`to=${at}`)).toHaveLength(items.length - after.length);
  });

  it('gives up sealing while a long write is under way, so that nobody waits behind it', async () => {
    const long = new pg.Client({ connectionString: api.databaseUrl });
    await long.connect();
    try {
      // What an import holds until its last line is in.
      await long.query('BEGIN');
      await long.query('LOCK TABLE audit_event IN ROW EXCLUSIVE MODE');
      const begun = performance.now();
      const sealing = sealNow();
      const behind = api.signIn(FIRST.email, FIRST.password);
      const refused = await sealing;
      expect([refused.status, refused.body.type]).toEqual([503, 'urn:heapwright:problem:busy']);
      expect(refused.headers['retry-after']).toBe('2');
      expect(await behind).toMatch(/^[\w-]+$/);
      expect(performance.now() - begun).toBeLessThan(2_500);
    } finally {
      await long.end();
    }
  });

  it.each(['personId=7', 'from=yesterday', 'to=2026-02-30T00:00:00Z', 'limit=0', 'colour=red', 'cursor=e30'])(
    'refuses ?%s',
    async (query) => {
      const refused = await get(`/audit?${query}`);
      expect(refused.status).toBe(422);
      expect(refused.body.errors[0].pointer).toBe(`/${query.split('=')[0]!}`);
    },
  );

  it('refuses a cursor of another kind', async () => {
    const text = Buffer.from('["a"]').toString('base64url');
    expect((await get(`/audit?cursor=${text}`)).status).toBe(422);
    expect((await get(`/audit/seals?cursor=${text}`)).status).toBe(422);
  });

  it('seals every event so far, each seal beginning where the one before it ends', async () => {
    expect(await verify()).toMatchObject({ ok: true, seals: 0, sealedEvents: 0, lastSeal: null });
    const first = await sealNow();
    expect(first.status).toBe(201);
    const { toSeq, events } = first.body as { toSeq: number; events: number };
    expect(first.body).toMatchObject({ number: 1, fromSeq: 1 });
    expect(events).toBeGreaterThanOrEqual(5);
    expect(toSeq).toBe(events);
    const second = (await sealNow()).body;
    expect(second).toMatchObject({ number: 2, fromSeq: toSeq + 1, events: 1 });
    expect((await get('/audit/seals')).body.items).toEqual([second, first.body]);
    expect((await get('/audit/seals?limit=1')).body.next).not.toBeNull();
    expect(await verify()).toEqual({
      ok: true,
      seals: 2,
      sealedEvents: events + 1,
      unsealedEvents: 1,
      lastSeal: second.seal,
      faults: [],
    });
  });

  it('seals by itself, once, however many processes try', async () => {
    const sealing = api.app.get(AuditSealing);
    const made = await Promise.all([sealing.seal(), sealing.seal(), sealing.seal()]);
    expect(made.toSorted()).toEqual([0, 0, 1]);
    expect(await verify()).toMatchObject({ ok: true, seals: 3, unsealedEvents: 0 });
  });

  it('waits for a writer under way, whose event would otherwise fall between two seals', async () => {
    const slow = await asSuperuser(api.databaseUrl, async (client) => {
      await client.query('BEGIN');
      const insert = `INSERT INTO audit_event (action, subject_kind, detail) VALUES ('a.slow', 'test', '{}') RETURNING seq`;
      const { rows } = await client.query(insert);
      const settled = api.app.get(AuditRecords).settledSeq();
      await new Promise((resolve) => setTimeout(resolve, 100));
      await client.query('COMMIT');
      return { seq: Number(rows[0].seq), settled: await settled };
    });
    expect(slow.settled).toBeGreaterThanOrEqual(slow.seq);
    expect((await sealNow()).body).toMatchObject({ number: 4, toSeq: slow.seq });
  });

  it('finds out a sealed document that was replaced under a new seal', async () => {
    const subject = '0197f0a0-0000-7000-8000-00000000000a';
    const actor = new Actor(wren.id, 'Wren Alder', subject, []);
    const { seal } = await api.app
      .get(Work)
      .writeSql(actor, (write) => api.app.get(SealsService).seal(write, 'batch-record', subject, { kg: 10 }));
    expect(await verify()).toMatchObject({ ok: true });
    const replace = (document: object, from: string) =>
      asSuperuser(api.databaseUrl, (client) =>
        client.query('UPDATE sealed_document SET document = $1, seal = $2 WHERE seal = $3', [
          ...[canonicalJson(document), sealOf(document), from],
        ]),
      );
    await replace({ kg: 11 }, seal);
    expect(await verify()).toMatchObject({
      ok: false,
      faults: [{ seal: null, text: `The document sealed as ${seal} is not here any more.` }],
    });
    await replace({ kg: 10 }, sealOf({ kg: 11 }));
    expect(await verify()).toMatchObject({ ok: true, faults: [] });
  });

  it('names the seal whose events somebody altered, and the one after it holds', async () => {
    const change = async (sql: string) =>
      await asSuperuser(api.databaseUrl, async (client) => (await client.query(sql)).rowCount);
    const { items } = (await get('/audit/seals')).body;
    const { toSeq, events } = items.at(-1) as { toSeq: number; events: number };
    expect(await change(`UPDATE audit_event SET detail = '{"grants":[]}' WHERE seq = 1`)).toBe(1);
    expect(await verify()).toMatchObject({
      ok: false,
      faults: [
        {
          seal: 1,
          text: `Events 1 to ${toSeq} were altered after they were sealed, or the seal before was.`,
        },
      ],
    });
    await change(`DELETE FROM audit_event WHERE seq = 2`);
    const { faults } = await verify();
    expect(faults).toHaveLength(1);
    expect(faults[0].text).toContain(`: ${events} were sealed and ${events - 1} are there`);

    await change(`DELETE FROM audit_seal WHERE number IN (2, 3)`);
    expect((await verify()).faults).toMatchObject([
      { seal: 1 },
      { seal: 4, text: 'Seals 2 to 3 are missing.' },
    ]);
  });
});
