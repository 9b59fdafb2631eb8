import { v7 } from 'uuid';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { startApi, type TestApi } from '../support/api.js';
import { auditOf } from '../support/audit.js';
import { intakeRows, lotBody } from '../support/intake.js';
import { made, makeProgramme, type Programme } from '../support/programme.js';

interface Item {
  id: string | null;
  status: number;
  problem?: { type: string; status: number; errors?: { pointer: string }[] };
}

const lb = (value: number) => ({ value, unit: 'lb' });

describe('drop-offs in bulk', () => {
  let api: TestApi;
  let programme: Programme;
  beforeAll(async () => {
    api = await startApi();
    programme = await makeProgramme(api);
  });
  afterAll(() => api.stop());

  const lot = (changes: object = {}) => lotBody(programme, changes);
  const bulk = async (items: unknown[], as = programme.people.volunteer.token): Promise<Item[]> => {
    const answer = await api.call('POST', '/drop-offs/bulk', { as, body: { items } });
    expect(answer.status, answer.text).toBe(200);
    return answer.body.items;
  };
  const statuses = (items: Item[]) => items.map(({ status }) => status);

  it('keeps the good ones and tells of each of the others', async () => {
    const sent = await made(api, '/drop-offs', lot(), programme.people.volunteer.token);
    const shift = await made(api, '/shifts', { siteId: programme.hub1.id }, programme.people.volunteer.token);
    await api.call('POST', `/shifts/${shift.id}/close`, { as: api.coordinator, body: { countedLots: 0 } });
    const good = [
      lot({ rejects: [{ contaminant: 'glass', mass: lb(1), wentTo: 'landfill' }] }),
      lot({ weight: { net: lb(0) } }),
      lot({ weight: undefined, volume: { value: 2, unit: 'gal' } }),
    ];
    const rows = await intakeRows(api);
    const items = [
      good[0],
      'a lot',
      null,
      { ...lot(), weight: { net: { value: -1, unit: 'lb' } }, hat: 1 },
      good[1],
      lot({ siteId: programme.hub2.id }),
      lot({ material: 'moon-dust' }),
      { ...lot(), id: sent.id },
      lot({ occurredAt: '2126-01-01T00:00:00Z' }),
      lot({ shiftId: shift.id, occurredAt: undefined }),
      { ...lot(), id: 'seven' },
      good[2],
    ];
    const answers = await bulk(items);
    expect(statuses(answers)).toEqual([201, 422, 422, 422, 201, 403, 422, 409, 422, 409, 422, 201]);
    const told = answers.map(({ problem }) => [
      problem?.type.split(':').at(-1),
      ...(problem?.errors ?? []).map(({ pointer }) => pointer).sort(),
    ]);
    expect(told).toEqual([
      [undefined],
      ['invalid', ''],
      ['invalid', ''],
      ['invalid', '/hat', '/weight/net/value'],
      [undefined],
      ['other-site'],
      ['invalid', '/material'],
      ['other-body'],
      ['invalid', '/occurredAt'],
      ['shift-closed'],
      ['invalid', '/id'],
      [undefined],
    ]);
    for (const { status, problem } of answers) expect(problem?.status ?? status).toBe(status);
    expect(answers.map(({ id }) => id)).toEqual(
      items.map((item) => {
        const id = (item as { id?: string } | null)?.id ?? null;
        return id === 'seven' ? null : id;
      }),
    );

    const now = await intakeRows(api);
    expect(now).toEqual({
      ...rows,
      drop_off: rows['drop_off']! + 3,
      drop_off_revision: rows['drop_off_revision']! + 3,
      drop_off_reject: rows['drop_off_reject']! + 1,
      audit_event: rows['audit_event']! + 3,
    });
    const audited = (await auditOf(api, 'drop-off.recorded')).map(({ subjectId }) => subjectId);
    for (const { id } of good) expect(audited.filter((subject) => subject === id)).toHaveLength(1);
  });

  it('makes of a bulk what single ones would have made', async () => {
    const body = lot({ rejects: [{ contaminant: 'foam', mass: lb(0.3), wentTo: 'returned' }], note: 'Wet' });
    const [item] = await bulk([body]);
    expect(item).toEqual({ id: body.id, status: 201 });
    const kept = await api.call('GET', `/drop-offs/${body.id}`, { as: api.coordinator });
    const single = await made(api, '/drop-offs', { ...body, id: v7() }, programme.people.volunteer.token);
    const { revisions, ...now } = kept.body;
    expect(revisions).toHaveLength(1);
    expect({ ...now, id: '', recordedAt: '' }).toEqual({ ...single, id: '', recordedAt: '' });
  });

  it('keeps everything once, sent again and again, also by several at the same moment', async () => {
    const items = Array.from({ length: 60 }, (_, index) => lot({ weight: { net: lb(index + 1) } }));
    const answers = await Promise.all([bulk(items), bulk(items.toReversed()), bulk(items.slice(20, 40))]);
    const made201 = answers.flat().filter(({ status }) => status === 201);
    expect(new Set(made201.map(({ id }) => id)).size).toBe(60);
    expect(made201).toHaveLength(60);
    expect(statuses(await bulk(items))).toEqual(items.map(() => 200));
    const [changed, same] = await bulk([{ ...items[0]!, depositor: 'garden' }, items[1]]);
    expect([changed!.status, same!.status]).toEqual([409, 200]);
    const audited = (await auditOf(api, 'drop-off.recorded')).map(({ subjectId }) => subjectId);
    expect(audited.filter((id) => items.some((item) => item.id === id))).toHaveLength(60);
  });

  it('keeps the first of two under one id', async () => {
    const body = lot();
    const answers = await bulk([
      { ...body, weight: { net: lb(-1) } },
      body,
      body,
      { ...body, depositor: 'other' },
    ]);
    expect(statuses(answers)).toEqual([422, 201, 200, 409]);
  });

  it('takes lots of several sites at once, and gives ids where none are sent', async () => {
    const { id: _, ...body } = lot({ weight: { net: lb(3) } });
    const answers = await bulk(
      [body, { ...body, siteId: programme.hub2.id }, { ...body, siteId: v7() }],
      api.coordinator,
    );
    expect(statuses(answers)).toEqual([201, 201, 422]);
    expect(answers[2]!.problem!.errors![0]!.pointer).toBe('/siteId');
    const kept = await api.call('GET', `/drop-offs/${answers[1]!.id!}`, { as: api.coordinator });
    expect([kept.body.siteId, kept.body.jurisdictionId]).toEqual([
      programme.hub2.id,
      programme.jurisdictions.thistleFord.id,
    ]);
  });

  it('takes five hundred', async () => {
    const items = Array.from({ length: 500 }, () => lot());
    expect(new Set(statuses(await bulk(items)))).toEqual(new Set([201]));
  });

  it('lets in who records at some hub', async () => {
    const call = (as?: string) =>
      api.call('POST', '/drop-offs/bulk', { ...(as ? { as } : {}), body: { items: [lot()] } });
    expect((await call()).status).toBe(401);
    expect((await call(programme.people.municipalReader.token)).status).toBe(403);
    expect(statuses(await bulk([lot()], programme.people.otherManager.token))).toEqual([403]);
  });
});
