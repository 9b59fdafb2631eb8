import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { sealOf } from '#libs/documents';
import { Actor } from '../../apps/api/http/access/actor.js';
import { Work } from '../../apps/api/http/writes/work.js';
import { SealsService } from '../../apps/api/reporting/seals.service.js';
import { startApi, type TestApi } from '../support/api.js';
import { asSuperuser } from '../support/superuser.js';

const SUBJECT = '0197f0a0-0000-7000-8000-00000000000a';
const record = (kg: number) => ({ batch: 'PL-1', massKg: kg, note: 'a “quoted” Übung' });

describe('seals', () => {
  let api: TestApi;
  let actor: Actor;
  const seal = (document: unknown, subject = SUBJECT) =>
    api.app
      .get(Work)
      .writeSql(actor, (write) => api.app.get(SealsService).seal(write, 'batch-record', subject, document));

  beforeAll(async () => {
    api = await startApi();
    const me = await api.call('GET', '/people/me', { as: api.coordinator });
    actor = new Actor(me.body.id, 'First', SUBJECT, [
      { role: 'coordinator', siteId: null, jurisdictionId: null },
    ]);
  });
  afterAll(() => api.stop());

  it('gives the digest of the canonical document and counts versions', async () => {
    const first = await seal(record(10));
    expect(first).toEqual({ seal: sealOf({ ...record(10) }), version: 1 });
    expect(await seal(record(11))).toMatchObject({ version: 2 });
    expect(await seal(record(10))).toEqual(first);
    const other = await seal({ ...record(10), batch: 'PL-2' }, '0197f0a0-0000-7000-8000-00000000000b');
    expect(other.version).toBe(1);
    const latest = await api.app.get(SealsService).latest('batch-record', SUBJECT);
    expect(latest).toMatchObject({ version: 2, seal: sealOf(record(11)) });
    expect(JSON.parse(latest!.document)).toEqual(record(11));
  });

  it('answers whoever is signed in, and gives no document away', async () => {
    const known = sealOf(record(10));
    expect((await api.call('GET', `/seals/${known}`)).status).toBe(401);
    const answer = await api.call('GET', `/seals/${known.toUpperCase()}`, { as: api.coordinator });
    expect(answer.status).toBe(200);
    expect(Object.keys(answer.body).sort()).toEqual(['intact', 'kind', 'seal', 'sealedAt', 'version']);
    expect(answer.body).toMatchObject({ seal: known, kind: 'batch-record', version: 1, intact: true });
    for (const unknown of [sealOf('another'), 'not-a-seal', '%00']) {
      const refused = await api.call('GET', `/seals/${unknown}`, { as: api.coordinator });
      expect(refused.status).toBe(404);
      expect(refused.body.type).toBe('urn:heapwright:problem:not-found');
    }
  });

  it('keeps what is sealed, and finds out a superuser who changed it all the same', async () => {
    const known = sealOf(record(11));
    const change = `UPDATE sealed_document SET document = replace(document, '11', '12') WHERE seal = '${known}'`;
    await asSuperuser(api.databaseUrl, async (client) => {
      await client.query('SET session_replication_role = origin');
      await expect(client.query(change)).rejects.toThrow(/keeps its rows/);
      await client.query('SET session_replication_role = replica');
      await expect(client.query(change)).rejects.toThrow(/sealed_document_digest/);
      await client.query('ALTER TABLE sealed_document DROP CONSTRAINT sealed_document_digest');
      await client.query(change);
      await client.query(`DELETE FROM sealed_document WHERE seal = '${sealOf(record(10))}'`);
    });
    const answer = await api.call('GET', `/seals/${known}`, { as: api.coordinator });
    expect(answer.body).toMatchObject({ version: 2, intact: false });
    const faults = await api.app.get(SealsService).faults([sealOf(record(10)), known]);
    expect(faults).toEqual([
      `The document sealed as ${known} was altered.`,
      `The document sealed as ${sealOf(record(10))} is not here any more.`,
    ]);
  });
});
