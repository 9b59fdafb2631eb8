import { createHash } from 'node:crypto';
import { v7 } from 'uuid';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { startApi, type TestApi } from '../support/api.js';
import { auditOf } from '../support/audit.js';
import { hoursAfter } from '../support/heat.js';
import { made, makeProgramme, PASSWORD, type Programme } from '../support/programme.js';
import { CURING_FROM, makeCuring, maturity, permitTerms } from '../support/released.js';
import { lotAtHub1, makeYard, sqlOf, type Yard } from '../support/yard-work.js';

const code = (answer: any) => answer.body.type.replace('urn:heapwright:problem:', '');
const pointers = (answer: any) =>
  (answer.body.errors ?? []).map((fault: { pointer: string }) => fault.pointer).sort();
const kg = (value: number) => ({ value, unit: 'kg' });
const reading = { position: 'core-1', temperature: { value: 30, unit: 'C' } };

describe('releasing a batch', () => {
  let api: TestApi;
  let programme: Programme;
  let yard: Yard;
  beforeAll(async () => {
    api = await startApi();
    programme = await makeProgramme(api);
    yard = await makeYard(api, programme);
    await made(api, '/permits', { siteId: yard.yard.id, ...permitTerms });
  });
  afterAll(() => api.stop());

  const post = (path: string, body: unknown, as = yard.manager.token) => api.call('POST', path, { as, body });
  const get = (path: string, as = yard.manager.token) => api.call('GET', path, { as });
  const release = (batchId: string, facts: object = {}, as?: string) =>
    post(`/batches/${batchId}/release`, { password: PASSWORD, ...facts }, as);
  const lotsMore = () => lotAtHub1(api, programme, 5_000);

  /** A curing batch with every gate met. */
  async function ripe(): Promise<string> {
    const id = await makeCuring(api, programme, yard);
    await made(api, `/batches/${id}/samples`, maturity('passed'), yard.manager.token);
    return id;
  }

  /** What is kept of a release of this batch. */
  async function keptOf(batchId: string) {
    const [kept] = await sqlOf(api).query<{ releases: number; documents: number; stage: string }>(
      `SELECT (SELECT count(*) FROM release WHERE batch_id = $1) AS releases,
         (SELECT count(*) FROM sealed_document WHERE subject_id = $1) AS documents, batch_stage_of($1) AS stage`,
      [batchId],
    );
    return kept;
  }
  const untouched = { releases: 0, documents: 0, stage: 'curing' };

  it('seals its record and enters the stage', async () => {
    const id = await ripe();
    const answer = await release(id, { statement: 'Seen, smelt and sieved.' });
    expect(answer.status).toBe(201);
    const { seal } = answer.body;
    expect(answer.body).toEqual({ seal: expect.stringMatching(/^[0-9a-f]{64}$/) });
    expect((await get(`/batches/${id}`)).body.stage).toBe('released');
    expect((await get(`/seals/${seal as string}`)).body).toMatchObject({
      kind: 'batch-record',
      intact: true,
    });

    const [row] = await sqlOf(api).query<{ document: string; statement: string; signedName: string }>(
      `SELECT d.document, r.statement, r.signed_name AS "signedName"
       FROM release r JOIN sealed_document d ON d.seal = r.seal WHERE r.batch_id = $1`,
      [id],
    );
    expect(row).toMatchObject({ statement: 'Seen, smelt and sieved.', signedName: 'Petra Hollis' });
    expect(createHash('sha256').update(row!.document).digest('hex')).toBe(seal);
    const record = JSON.parse(row!.document);
    expect(record).toMatchObject({ status: 'signed', batch: { stage: 'released' } });
    expect(record.release).toMatchObject({
      signedBy: 'Petra Hollis',
      role: 'manager',
      statement: 'Seen, smelt and sieved.',
    });
    const { gates, signedAt } = (await get(`/batches/${id}/gates`)).body;
    expect(record.gates).toEqual(gates.map(({ title: _, ...gate }: { title: string }) => gate));
    expect(record.release.signedAt).toBe(signedAt);

    const [line] = (await auditOf(api, 'batch.released')).filter(({ subjectId }) => subjectId === id);
    expect(line).toMatchObject({
      personId: yard.manager.id,
      siteId: yard.yard.id,
      detail: { seal, role: 'manager', overridden: [] },
    });
  });

  it('is for a manager of the yard, who signs with the own password', async () => {
    const id = await ripe();
    expect((await api.call('POST', `/batches/${id}/release`, { body: {} })).status).toBe(401);
    for (const token of [
      yard.operator.token,
      programme.people.otherManager.token,
      programme.people.volunteer.token,
      programme.people.municipalReader.token,
    ]) {
      expect((await release(id, {}, token)).status).toBe(403);
    }
    const wrong = await release(id, { password: 'not this one at all' });
    expect([wrong.status, code(wrong)]).toEqual([403, 'wrong-password']);
    expect(pointers(await post(`/batches/${id}/release`, {}))).toEqual(['/password']);
    expect(await keptOf(id)).toEqual(untouched);
    const coordinator = await release(id, {}, programme.people.coordinator.token);
    expect(coordinator.status).toBe(201);
    const [line] = (await auditOf(api, 'batch.released')).filter(({ subjectId }) => subjectId === id);
    expect(line!.detail).toMatchObject({ role: 'coordinator' });
  });

  it('is held back by gates that are unmet, and tells each', async () => {
    const id = await makeCuring(api, programme, yard);
    await made(
      api,
      `/batches/${id}/checks`,
      { readings: [{ ...reading, temperature: { value: 46, unit: 'C' } }] },
      yard.operator.token,
    );
    const answer = await release(id);
    expect([answer.status, code(answer)]).toEqual([409, 'gates-unmet']);
    expect(answer.body.errors.map(({ detail }: { detail: string }) => detail)).toEqual([
      expect.stringMatching(/^cure: Cured 0 of 30 days since /),
      'sample:maturity: No maturity sample has been judged yet.',
    ]);
    const half = await release(id, { overrides: [{ gate: 'cure', reason: 'goes to the nursery bed' }] });
    expect(half.body.errors).toHaveLength(1);
    expect(await keptOf(id)).toEqual(untouched);
  });

  it.each([
    ['an unknown gate', [{ gate: 'vibes', reason: 'felt right to everybody' }], ['/overrides/0/gate']],
    ['a gate that is met', [{ gate: 'balance', reason: 'to be on the safe side' }], ['/overrides/0/gate']],
    [
      'one gate twice',
      [
        { gate: 'sample:maturity', reason: 'the plants came up well' },
        { gate: 'sample:maturity', reason: 'and they did so twice' },
      ],
      ['/overrides/1/gate'],
    ],
    ['no reason to speak of', [{ gate: 'sample:maturity', reason: 'ok' }], ['/overrides/0/reason']],
    ['no reason', [{ gate: 'sample:maturity' }], ['/overrides/0/reason']],
    [
      'a field of another kind',
      [{ gate: 'cure', reason: 'long enough by hand', by: 'me' }],
      ['/overrides/0/by'],
    ],
  ])('refuses to override %s', async (_, overrides, at) => {
    const id = await makeCuring(api, programme, yard);
    const answer = await release(id, { overrides });
    expect(answer.status).toBe(422);
    expect(pointers(answer)).toEqual(at);
    expect(await keptOf(id)).toEqual(untouched);
  });

  it('keeps the reasons for which gates were overridden', async () => {
    const id = await makeCuring(api, programme, yard);
    const reason = 'bioassay of our own: all peas upright after three weeks';
    const answer = await release(id, { overrides: [{ gate: 'sample:maturity', reason }] });
    expect(answer.status).toBe(201);
    const { gates } = (await get(`/batches/${id}/gates`)).body;
    expect(gates.filter((gate: any) => gate.overrideReason !== null)).toEqual([
      {
        ...{ key: 'sample:maturity', title: 'Sample: maturity', state: 'unmet', overrideReason: reason },
        text: 'No maturity sample has been judged yet.',
      },
    ]);
    const [line] = (await auditOf(api, 'batch.released')).filter(({ subjectId }) => subjectId === id);
    expect(line!.detail['overridden']).toEqual([{ gate: 'sample:maturity', state: 'unmet', reason }]);
  });

  it('is typed in later as of the day it was signed on paper', async () => {
    const id = await makeCuring(api, programme, yard);
    const at = (days: number) => ({ occurredAt: hoursAfter(CURING_FROM, days * 24) });
    expect(pointers(await release(id, at(-1)))).toEqual(['/occurredAt']);
    expect(pointers(await release(id, { occurredAt: '2999-01-01T00:00:00Z' }))).toEqual(['/occurredAt']);
    // The cure took 30 days.
    const early = await release(id, at(29));
    expect(early.body.errors.map(({ detail }: { detail: string }) => detail.split(':')[0])).toEqual([
      'cure',
      'sample',
    ]);
    expect((await release(id, at(30.5))).body.errors).toHaveLength(1);
    await made(api, `/batches/${id}/samples`, maturity('passed'), yard.manager.token);
    const before = Date.now();
    expect((await release(id, at(31))).status).toBe(201);
    expect((await get(`/batches/${id}/gates`)).body.signedAt).toBe(at(31).occurredAt);
    const entered = (await get(`/batches/${id}`)).body.stages.at(-1);
    expect(entered).toMatchObject({ stage: 'released', enteredAt: at(31).occurredAt });

    // The record says both when it was signed and when that was typed in.
    const { release: signature } = (await get(`/batches/${id}/record.json`)).body;
    expect(signature.signedAt).toBe(at(31).occurredAt);
    const typedIn = Date.parse(signature.recordedAt);
    expect(typedIn).toBeGreaterThanOrEqual(before);
    expect(typedIn).toBeLessThanOrEqual(Date.now());
    const [row] = await sqlOf(api).query<{ recordedAt: Date }>(
      'SELECT recorded_at AS "recordedAt" FROM release WHERE batch_id = $1',
      [id],
    );
    expect(row!.recordedAt.toISOString()).toBe(signature.recordedAt);
  });

  it('happens once, and only out of curing', async () => {
    const id = await ripe();
    const answers = await Promise.all([1, 2, 3].map(() => release(id)));
    expect(answers.map(({ status }) => status).sort()).toEqual([201, 409, 409]);
    expect(answers.filter(({ status }) => status === 409).map(code)).toEqual(Array(2).fill('batch-released'));
    expect(await keptOf(id)).toEqual({ releases: 1, documents: 1, stage: 'released' });
    const { id: building } = await yard.begin();
    const early = await release(building);
    expect([early.status, code(early)]).toEqual([409, 'stage-closed']);
  });

  it('seals every check that was acknowledged, however close to the signature it came', async () => {
    const id = await ripe();
    const acknowledged: string[] = [];
    let refused = 0;
    let signed: number | null = null;
    const crew = async () => {
      while (signed === null) {
        const body = { id: v7(), occurredAt: hoursAfter(CURING_FROM, 100), readings: [reading] };
        const { status } = await post(`/batches/${id}/checks`, body, yard.operator.token);
        if (status === 201) acknowledged.push(body.id);
        else refused += status === 409 ? 1 : NaN;
      }
    };
    const signing = async () => {
      signed = (await release(id)).status;
    };
    await Promise.all([crew(), crew(), crew(), crew(), crew(), crew(), signing()]);
    expect(signed).toBe(201);
    expect(refused).toBeGreaterThan(0);
    const [row] = await sqlOf(api).query<{ document: string }>(
      `SELECT document FROM sealed_document WHERE subject_id = $1`,
      [id],
    );
    const sealed = new Set(JSON.parse(row!.document).checks.map((check: { id: string }) => check.id));
    expect(acknowledged.length).toBeGreaterThan(0);
    expect(acknowledged.filter((each) => !sealed.has(each))).toEqual([]);
  });

  describe('what is released', () => {
    let id: string;
    let check: any;
    let sample: any;
    let screening: any;
    beforeAll(async () => {
      id = await ripe();
      const at = (what: string) => `/batches/${id}/${what}`;
      check = (await get(at('checks?limit=1'))).body.items[0];
      sample = (await get(at('samples'))).body.items[0];
      const compost = { compost: kg(400), overs: kg(50), occurredAt: hoursAfter(CURING_FROM, 800) };
      screening = await made(api, at('screenings'), compost, yard.manager.token);
      await release(id);
    });

    it('takes nothing in any more', async () => {
      const at = (what: string) => `/batches/${id}/${what}`;
      const reason = { reason: 'second thoughts' };
      const calls: [string, object][] = [
        [at('checks'), { readings: [reading] }],
        [at('turns'), {}],
        [at('waterings'), {}],
        [at('samples'), { kind: 'metals', finding: 'clean', outcome: 'passed' }],
        [at('screenings'), { overs: kg(1) }],
        [at('amendments'), { from: 'stock', material: 'leaves', mass: kg(1) }],
        [at('assignments'), { items: [{ dropOffId: await lotsMore() }] }],
        [at('moves'), { bay: yard.freeBay() }],
        [at(`checks/${check.id as string}/void`), reason],
        [at(`samples/${sample.id as string}/void`), reason],
        [at(`screenings/${screening.id as string}/void`), reason],
        [at('stage'), { to: 'condemned', reason: 'second thoughts' }],
      ];
      for (const [path, body] of calls) {
        const answer = await post(path, body);
        expect(answer.status, `${path}: ${answer.text}`).toBe(409);
      }
    });

    it('takes nothing in from whoever writes to the database itself', async () => {
      const sql = sqlOf(api);
      const lot = await lotsMore();
      const base = `'${id}', now(), '\\x00', '${yard.manager.id}'`;
      const columns = 'id, batch_id, occurred_at, body_sha256, recorded_by';
      const key = `gen_random_uuid(), ${base}`;
      const inserts = [
        `batch_check (${columns}, entered, warnings) VALUES (${key}, '{}', '[]')`,
        `turn (${columns}) VALUES (${key})`,
        `watering (${columns}, entered) VALUES (${key}, '{}')`,
        `sample (${columns}, kind, outcome, entered) VALUES (${key}, 'metals', 'passed', '{}')`,
        `screening (${columns}, compost_g, overs_g, residue_g, entered) VALUES (${key}, 1, 0, 0, '{}')`,
        `amendment (${columns}, material_code, source, basis, mass_g, entered)
         VALUES (${key}, 'leaves', 'stock', 'scale', 1, '{}')`,
        `assignment (id, batch_id, drop_off_id, mass_g, occurred_at, recorded_by)
         VALUES (gen_random_uuid(), '${id}', '${lot}', 1, now(), '${yard.manager.id}')`,
        `batch_stage (batch_id, stage, entered_at, recorded_by)
         VALUES ('${id}', 'condemned', now(), '${yard.manager.id}')`,
        `check_reading (check_id, line, position, temperature_deci_c)
         VALUES ('${check.id as string}', 99, 'core-99', 700)`,
        `bay_stay (id, batch_id, bay_id, from_at, to_at, recorded_by)
         SELECT gen_random_uuid(), '${id}', id, '2020-01-01', '2020-01-02', '${yard.manager.id}'
         FROM bay WHERE site_id = '${yard.yard.id}' LIMIT 1`,
      ];
      for (const insert of inserts) {
        await expect(sql.query(`INSERT INTO ${insert}`), insert).rejects.toThrow(
          /the batch is released|does not go from released/,
        );
      }
    });

    it('keeps every row of its record', async () => {
      const sql = sqlOf(api);
      const voiding = `SET voided_at = now(), voided_by = '${yard.manager.id}', void_reason = 'no'`;
      for (const table of ['batch_check', 'sample', 'screening', 'assignment']) {
        await expect(
          sql.query(`UPDATE ${table} ${voiding} WHERE batch_id = '${id}' AND voided_at IS NULL`),
          table,
        ).rejects.toThrow('the batch is released');
        await expect(sql.query(`DELETE FROM ${table} WHERE batch_id = '${id}'`), table).rejects.toThrow(
          'keeps its rows',
        );
      }
      const changes = [
        `UPDATE release SET statement = 'never mind' WHERE batch_id = '${id}'`,
        `UPDATE release SET gates = '[]' WHERE batch_id = '${id}'`,
        `DELETE FROM release WHERE batch_id = '${id}'`,
        `UPDATE sealed_document SET document = '{}' WHERE subject_id = '${id}'`,
        `DELETE FROM sealed_document WHERE subject_id = '${id}'`,
        `DELETE FROM batch_stage WHERE batch_id = '${id}' AND stage = 'released'`,
        `UPDATE batch SET method = 'in-vessel' WHERE id = '${id}'`,
        `UPDATE check_reading SET temperature_deci_c = 700 WHERE check_id = '${check.id as string}'`,
        `TRUNCATE release`,
      ];
      for (const change of changes) {
        await expect(sql.query(change), change).rejects.toThrow(/keeps its rows/);
      }
    });

    it('is given away, no more than was made', async () => {
      const gift = { recipient: 'school', use: 'trees' };
      const given = await post(`/batches/${id}/distributions`, { ...gift, mass: kg(390) });
      expect(given.status).toBe(201);
      const more = await post(`/batches/${id}/distributions`, { ...gift, mass: kg(11) });
      expect([more.status, code(more)]).toEqual([409, 'balance-exceeded']);

      // That the trailer went elsewhere is found out when the bay is empty.
      await yard.enter(id, 'emptied');
      const late = await post(`/batches/${id}/distributions`, { ...gift, mass: kg(1) });
      expect([late.status, code(late)]).toEqual([409, 'stage-closed']);
      const path = `/batches/${id}/distributions/${given.body.id as string}/void`;
      const voided = await post(path, { reason: 'it never left' });
      expect([voided.status, voided.body.voidReason]).toEqual([200, 'it never left']);
    });
  });
});
