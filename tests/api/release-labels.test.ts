import { v7 } from 'uuid';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { publicUrlOf } from '../../apps/api/http/settings.js';
import { startApi, type TestApi } from '../support/api.js';
import { made, makeProgramme, PASSWORD, type Programme } from '../support/programme.js';
import { makeCuring, maturity, permitTerms } from '../support/released.js';
import { makeYard, sqlOf, type Yard } from '../support/yard-work.js';
import { run, textOf } from '../unit/documents/programs.js';

const kg = (value: number) => ({ value, unit: 'kg' });
const code = (answer: any) => answer.body.type.replace('urn:heapwright:problem:', '');

describe('a label', () => {
  let api: TestApi;
  let programme: Programme;
  let yard: Yard;
  let manager: string;
  let batch: { id: string; code: string };
  beforeAll(async () => {
    api = await startApi({ publicUrl: publicUrlOf('https://compost.larkhollow.example/') });
    programme = await makeProgramme(api);
    yard = await makeYard(api, programme);
    manager = yard.manager.token;
    await made(api, '/permits', { siteId: yard.yard.id, ...permitTerms });
    batch = await released();
  });
  afterAll(() => api.stop());

  /** A batch with 300 kg (500 L) of compost, signed for. */
  async function released(): Promise<typeof batch> {
    const id = await makeCuring(api, programme, yard);
    await made(api, `/batches/${id}/samples`, maturity('passed'), manager);
    const compostVolume = { value: 500, unit: 'L' };
    await made(api, `/batches/${id}/screenings`, { compost: kg(300), compostVolume }, manager);
    await made(api, `/batches/${id}/release`, { password: PASSWORD }, manager);
    return (await get(`/batches/${id}`)).body;
  }
  const get = (path: string, as = yard.operator.token) => api.call('GET', path, { as });
  const gift = { recipient: 'household', use: 'trees', volume: { value: 50, unit: 'L' } };
  const give = (body: object = gift) => made(api, `/batches/${batch.id}/distributions`, body, manager);
  const label = async (id: string) => {
    const answer = await get(`/batches/${batch.id}/distributions/${id}/label.pdf`);
    expect(answer.status).toBe(200);
    expect(answer.headers['content-type']).toBe('application/pdf');
    return new Uint8Array(answer.bytes);
  };
  const show = async (publicRecords: boolean) => {
    const path = `/sites/${yard.yard.id}`;
    const { version } = (await api.call('GET', path, { as: api.coordinator })).body;
    const headers = { 'if-match': `"${version as number}"` };
    await api.call('PATCH', path, { as: api.coordinator, headers, body: { publicRecords } });
  };

  it('is numbered within its batch, and keeps its number whatever is taken back', async () => {
    const [first, second] = [await give(), await give({ ...gift, use: 'lawns' })];
    expect([first.code, second.code]).toEqual([`${batch.code}/1`, `${batch.code}/2`]);
    const path = `/batches/${batch.id}/distributions/${second.id as string}`;
    await api.call('POST', `${path}/void`, { as: manager, body: { reason: 'it came back' } });
    expect((await give()).code).toBe(`${batch.code}/3`);
    const refused = await get(`${path}/label.pdf`);
    expect([refused.status, code(refused)]).toEqual([409, 'conflict']);
  });

  it('gives each of many that leave at once a number of its own', async () => {
    const small = { ...gift, volume: { value: 5, unit: 'L' } };
    const given = await Promise.all([1, 2, 3, 4].map(() => give(small)));
    expect(new Set(given.map((one) => one.code)).size).toBe(4);
  });

  it('tells what, how much, when and how to use it, and leads to the record only where the yard shows it', async () => {
    const one = await give();
    const hidden = textOf(await label(one.id));
    await show(true);
    const pdf = await label(one.id);
    const shown = textOf(pdf);
    if (hidden === null || shown === null) return;
    for (const said of [
      one.code as string,
      '50 L (30 kg, estimated)',
      'How to use it: trees',
      'Wear gloves',
    ]) {
      expect(hidden).toContain(said);
      expect(shown).toContain(said);
    }
    expect(hidden).toContain(`for the record of batch ${batch.code}.`);
    const [{ seal } = { seal: '' }] = await sqlOf(api).query<{ seal: string }>(
      'SELECT seal FROM release WHERE batch_id = $1',
      [batch.id],
    );
    const objects = run(pdf, 'qpdf', '--json', 'FILE');
    const address = `https://compost.larkhollow.example/record/${seal}`;
    if (objects !== null) expect(objects).toContain(`QR code of the address ${address}`);
    await show(false);
  });

  it('is of a distribution of that batch, for those who work there', async () => {
    const { id } = await give();
    const path = (batchId: string, of: string) => `/batches/${batchId}/distributions/${of}/label.pdf`;
    expect((await api.call('GET', path(batch.id, id))).status).toBe(401);
    expect((await get(path(batch.id, id), programme.people.volunteer.token)).status).toBe(403);
    expect(code(await get(path(batch.id, v7())))).toBe('not-found');
    const other = await yard.begin();
    expect(code(await get(path(other.id, id)))).toBe('not-found');
  });

  it('is not to be had while the batch is on hold', async () => {
    const { id } = await give();
    await made(api, `/batches/${batch.id}/holds`, { reason: 'glass was found' }, manager);
    const refused = await get(`/batches/${batch.id}/distributions/${id as string}/label.pdf`);
    expect([refused.status, code(refused)]).toEqual([409, 'batch-on-hold']);
  });
});

describe('the address that labels lead to', () => {
  it.each([
    ['', ''],
    ['https://compost.example.org', 'https://compost.example.org'],
    ['http://10.0.0.4:3000/compost/', 'http://10.0.0.4:3000/compost'],
  ])('takes %j', (text, kept) => {
    expect(publicUrlOf(text)).toBe(kept);
  });

  it.each([
    'compost.example.org',
    'ftp://example.org',
    'https://example.org/?a=1',
    `https://${'a'.repeat(250)}.org`,
  ])('refuses %j', (text) => {
    expect(() => publicUrlOf(text)).toThrow('is no address');
  });
});
