import pg from 'pg';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { startApi, type TestApi } from '../support/api.js';
import { made, makeProgramme, PASSWORD, type Programme } from '../support/programme.js';
import { FILLED_AT, makeCuring, permitTerms } from '../support/released.js';
import { lotAtHub1, makeYard, putRelease, sqlOf, type Yard } from '../support/yard-work.js';

const code = (answer: any) => answer.body.type.replace('urn:heapwright:problem:', '');
const kg = (value: number) => ({ value, unit: 'kg' });
const DROPPED_AT = '2026-03-02T16:00:00Z';
const reason = 'read the wrong line';

describe('drop-offs of a batch whose record is closed', () => {
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

  const post = (path: string, body: unknown) => api.call('POST', path, { as: yard.manager.token, body });
  const correction = (facts: object = {}) => ({
    ...{ occurredAt: DROPPED_AT, material: 'food-scraps', depositor: 'household', reason },
    ...{ jurisdictionId: programme.jurisdictions.larkHollow.id, weight: { net: kg(5) }, rejects: [] },
    ...facts,
  });
  const correct = (lot: string, facts?: object) => post(`/drop-offs/${lot}/corrections`, correction(facts));
  const changes = (): [what: string, facts: object][] => [
    ['material', { material: 'leaves' }],
    ['jurisdiction', { jurisdictionId: programme.jurisdictions.thistleFord.id }],
    ['time', { occurredAt: '2026-03-02T17:00:00Z' }],
    ['basis', { weight: undefined, volume: { value: 20, unit: 'L' } }],
    [
      'rejects',
      {
        weight: { net: kg(6) },
        rejects: [{ contaminant: 'glass', mass: kg(1), wentTo: 'landfill' }],
      },
    ],
  ];

  /** A curing batch, and a lot of 5 kg that is in it. */
  async function curing(): Promise<{ id: string; lot: string }> {
    const { id } = await yard.begin();
    const lot = await lotAtHub1(api, programme, 5_000, { occurredAt: DROPPED_AT });
    const items = [{ dropOffId: lot }];
    await made(
      api,
      `/batches/${id as string}/assignments`,
      { items, occurredAt: FILLED_AT },
      yard.manager.token,
    );
    await yard.enter(id, 'active', 'curing');
    return { id, lot };
  }

  /** The same, closed. */
  async function closed(stage: string): Promise<{ id: string; lot: string }> {
    const batch = await curing();
    if (stage === 'condemned') {
      await made(api, `/batches/${batch.id}/stage`, { to: stage, reason: 'paint in it' }, yard.manager.token);
      return batch;
    }
    await putRelease(api, yard.manager.id, batch.id);
    if (stage === 'emptied') await yard.enter(batch.id, stage);
    return batch;
  }

  it('are corrected in everything while it cures', async () => {
    for (const [what, facts] of changes()) {
      const { lot } = await curing();
      const answer = await correct(lot, facts);
      // 20 L of food scraps are estimated at more than the 5 kg that are in the batch.
      expect(answer.status, `${what}: ${answer.text}`).toBe(201);
    }
  });

  it.each(['released', 'emptied', 'condemned'])('keep what its record tells of them: %s', async (stage) => {
    const { lot } = await closed(stage);
    for (const [what, facts] of changes()) {
      const answer = await correct(lot, facts);
      expect([what, answer.status, code(answer)]).toEqual([what, 409, 'stage-closed']);
      expect(answer.body.detail).toContain('is in a batch whose record is closed');
    }
    const pulled = { contaminant: 'glass', mass: { value: 1, unit: 'g' }, wentTo: 'landfill' };
    expect((await post(`/drop-offs/${lot}/rejects`, pulled)).status).toBe(409);
    expect((await post(`/drop-offs/${lot}/void`, { reason })).status).toBe(409);
    const rest = await correct(lot, {
      depositor: 'school',
      note: 'the class of Ms Wick',
      weight: { net: kg(6) },
    });
    expect(rest.status).toBe(201);
  });

  it('wait for a batch that is just being judged, and are held to what came of it', async () => {
    const { id, lot } = await curing();
    const client = new pg.Client({ connectionString: api.databaseUrl });
    await client.connect();
    await client.query('BEGIN');
    await client.query('SELECT FROM batch WHERE id = $1 FOR UPDATE', [id]);
    let answered = false;
    const answer = correct(lot, { material: 'leaves' }).finally(() => (answered = true));
    await new Promise((resolve) => setTimeout(resolve, 300));
    expect(answered).toBe(false);
    await client.query(
      `INSERT INTO batch_stage (batch_id, stage, entered_at, reason, recorded_by)
       VALUES ($1, 'condemned', now(), 'paint in it', $2)`,
      [id, yard.manager.id],
    );
    await client.query('COMMIT');
    await client.end();
    expect([(await answer).status, code(await answer)]).toEqual([409, 'stage-closed']);
  });

  it('are sealed as they were corrected, or not corrected', async () => {
    const id = await makeCuring(api, programme, yard);
    const [row] = await sqlOf(api).query<{ lot: string }>(
      'SELECT drop_off_id AS lot FROM assignment WHERE batch_id = $1',
      [id],
    );
    const facts = { material: 'leaves', weight: { net: kg(1000) } };
    const override = { gate: 'sample:maturity', reason: 'a bioassay of our own: all peas upright' };
    const [corrected, signed] = await Promise.all([
      correct(row!.lot, facts),
      post(`/batches/${id}/release`, { password: PASSWORD, overrides: [override] }),
    ]);
    expect(signed.status, signed.text).toBe(201);
    const { body: record } = await api.call('GET', `/batches/${id}/record.json`, { as: yard.manager.token });
    const materials = record.intake.materials.map((line: { code: string }) => line.code);
    expect(materials).toEqual([corrected.status === 201 ? 'leaves' : 'food-scraps']);
  });
});
