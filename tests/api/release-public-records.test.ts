import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { startApi, type TestApi } from '../support/api.js';
import { made, makeProgramme, PASSWORD, type Programme } from '../support/programme.js';
import { makeCuring, maturity, permitTerms } from '../support/released.js';
import { makeYard, type Yard } from '../support/yard-work.js';

describe('the record of a batch that anybody may read', () => {
  let api: TestApi;
  let programme: Programme;
  let yard: Yard;
  let batchId: string;
  let seal: string;
  beforeAll(async () => {
    api = await startApi();
    programme = await makeProgramme(api);
    yard = await makeYard(api, programme);
    await made(api, '/permits', { siteId: yard.yard.id, ...permitTerms });
    batchId = await makeCuring(api, programme, yard);
    await post('samples', {
      ...maturity('passed'),
      finding: 'Seen by Ottilie Fenn',
      laboratory: 'Fell Laboratory',
    });
    await post('screenings', { compost: { value: 300, unit: 'kg' }, note: 'Ottilie Fenn helped' });
    ({ seal } = await post('release', { password: PASSWORD, statement: 'Read by Petra Hollis' }));
  });
  afterAll(() => api.stop());

  const post = (what: string, body: object): Promise<any> =>
    made(api, `/batches/${batchId}/${what}`, body, yard.manager.token);
  const show = async (publicRecords: boolean) => {
    const path = `/sites/${yard.yard.id}`;
    const { body } = await api.call('GET', path, { as: api.coordinator });
    const headers = { 'if-match': `"${body.version}"` };
    const answer = await api.call('PATCH', path, { as: api.coordinator, headers, body: { publicRecords } });
    expect(answer.body).toMatchObject({ publicRecords });
  };
  const find = (hash = seal) => api.call('GET', `/public/batch-records/${hash}`);

  it('is shown only where the yard shows it, and not told apart from what is not there', async () => {
    expect(
      (await api.call('GET', `/sites/${yard.yard.id}`, { as: api.coordinator })).body.publicRecords,
    ).toBe(false);
    const hidden = await find();
    expect(hidden.status).toBe(404);
    await show(true);
    expect((await find()).status).toBe(200);
    expect((await find(seal.toUpperCase())).body.seal).toBe(seal);
    await show(false);
    expect((await find()).text.replaceAll(seal, '')).toBe(
      (await find('0'.repeat(64))).text.replaceAll('0'.repeat(64), ''),
    );
    expect((await find('no-seal')).status).toBe(404);
  });

  it('tells what went in, how it was made and tested, and the cautions', async () => {
    await show(true);
    const { body, headers } = await find();
    expect(headers['cache-control']).toBe('no-store');
    expect(body).toMatchObject({
      ...{ seal, programme: 'Lark Hollow Compost', site: 'Heron Street yard', onHold: false },
      materials: [
        { name: 'Food scraps, mixed', massKg: 1000, sharePercent: 100, estimated: false, estimatedKg: 0 },
      ],
      verdict: { status: 'met', citation: '40 CFR 503 Appendix B, (B)(1)' },
      cure: { daysRequired: 30 },
      samples: [{ kind: 'maturity', outcome: 'passed' }],
    });
    expect(body.releasedAt > body.verdict.metAt && body.verdict.metAt > body.begunAt).toBe(true);
    expect(body.gates.every(({ overridden }: { overridden: boolean }) => !overridden)).toBe(true);
    const topics = body.cautions.map(({ topic }: { topic: string }) => topic);
    expect(topics).toEqual(expect.arrayContaining(['Herbicide residue', 'Dust and spores', 'Animals']));
    expect(body.deference).toMatch(/local permit and the local authority govern/);
  });

  it('names no person, and repeats no free text', async () => {
    await show(true);
    const { text } = await find();
    for (const name of ['Petra', 'Hollis', 'Ottilie', 'Fenn', 'Bram', 'PH', 'helped'])
      expect(text).not.toContain(name);
  });

  it('says at once when the batch is put on hold', async () => {
    await show(true);
    const hold = await post('holds', { reason: 'Peas curled, says Ottilie Fenn' });
    const held = await find();
    expect(held.body.onHold).toBe(true);
    expect(held.text).not.toContain('Ottilie');
    const lift = `/batches/${batchId}/holds/${hold.id}/lift`;
    await api.call('POST', lift, { as: yard.manager.token, body: { reason: 'It was the potting mix' } });
    expect((await find()).body.onHold).toBe(false);
  });
});
