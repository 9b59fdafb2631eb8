import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { startApi, type TestApi } from '../support/api.js';
import { codesOf, lotBody, pointersOf } from '../support/intake.js';
import { made, makeProgramme, type Programme } from '../support/programme.js';
import { makeYard, type Yard } from '../support/yard-work.js';

const kg = (value: number) => ({ value, unit: 'kg' });
const at = (day: number) => `2026-03-${String(day).padStart(2, '0')}T15:00:00.000Z`;

describe('a correction of what was moved on since', () => {
  let api: TestApi;
  let programme: Programme;
  let yard: Yard;
  let as: string;
  beforeAll(async () => {
    api = await startApi();
    programme = await makeProgramme(api);
    yard = await makeYard(api, programme);
    as = yard.manager.token;
  });
  afterAll(() => api.stop());

  const dropOff = (facts: object = {}) =>
    made(api, '/drop-offs', lotBody(programme, { weight: { net: kg(20) }, occurredAt: at(4), ...facts }), as);
  const correct = (id: string, facts: object) =>
    api.call('POST', `/drop-offs/${id}/corrections`, {
      as,
      body: {
        ...{ occurredAt: at(4), material: 'food-scraps', depositor: 'household', rejects: [] },
        ...{ jurisdictionId: programme.jurisdictions.larkHollow.id, weight: { net: kg(20) } },
        ...{ reason: 'Read the wrong line', ...facts },
      },
    });
  const putIn = async (dropOffId: string) => {
    const batch = await yard.begin();
    const items = [{ dropOffId }];
    await made(api, `/batches/${batch.id as string}/assignments`, { items, occurredAt: at(6) }, as);
    return batch;
  };
  const leftOver = ({ body }: { body: any }) =>
    body.warnings.filter((one: { code: string }) => one.code === 'left-over');

  it('dates it no later than it was put into a batch', async () => {
    const { id } = await dropOff();
    const batch = await putIn(id);
    const later = await correct(id, { occurredAt: at(20) });
    expect([later.status, pointersOf(later)]).toEqual([422, ['/occurredAt']]);
    expect(later.body.errors[0].detail).toBe(
      `is later than it was put into batch ${batch.code as string}, at ${at(6)}`,
    );
    expect((await correct(id, { occurredAt: at(6) })).status).toBe(201);
    expect((await correct(id, { occurredAt: at(2) })).status).toBe(201);
  });

  it('dates it no later than its haul left, until that is voided', async () => {
    const { id } = await dropOff();
    const haul = await made(
      api,
      '/hauls',
      {
        ...{ siteId: programme.hub1.id, toSiteId: yard.yard.id, occurredAt: at(5) },
        lots: { dropOffIds: [id] },
      },
      as,
    );
    const later = await correct(id, { occurredAt: at(7) });
    expect([later.status, pointersOf(later)]).toEqual([422, ['/occurredAt']]);
    expect(later.body.errors[0].detail).toBe(`is later than it left with its haul, at ${at(5)}`);
    const voided = { as, body: { reason: 'never left' } };
    expect((await api.call('POST', `/hauls/${haul.id as string}/void`, voided)).status).toBe(200);
    expect((await correct(id, { occurredAt: at(7) })).status).toBe(201);
  });

  it('warns of what is left over of it once its batch takes nothing more, and where that waits', async () => {
    const { id } = await dropOff();
    const batch = await putIn(id);
    const whileBuilding = await correct(id, { weight: { net: kg(21) } });
    expect([whileBuilding.status, leftOver(whileBuilding)]).toEqual([201, []]);
    await yard.enter(batch.id, 'active');
    const after = await correct(id, { weight: { net: kg(23) } });
    expect([after.body.unassignedKg, leftOver(after)]).toEqual([
      3,
      [
        {
          code: 'left-over',
          text:
            `3 kg of it now wait at Quill Street hub: 20 kg are in ${batch.code as string}, which takes no ` +
            'more. Put them into another batch if they lie there; if not, tell them as pulled or correct the lot again.',
        },
      ],
    ]);
    const { body: kept } = await api.call('GET', `/drop-offs/${id}`, { as });
    expect(kept.warnings).toEqual(after.body.warnings);
    const pulled = { contaminant: 'glass', mass: kg(2), wentTo: 'landfill' };
    const rest = await made(api, `/drop-offs/${id}/rejects`, pulled, as);
    expect([rest.unassignedKg, codesOf({ body: rest })]).toEqual([
      1,
      expect.not.arrayContaining(['left-over']),
    ]);
    const back = await correct(id, {
      weight: { net: kg(22) },
      rejects: [pulled],
    });
    expect(codesOf(back)).not.toContain('left-over');
    expect(back.body.unassignedKg).toBe(0);
  });

  it('says nothing of a lot that is in no batch', async () => {
    const { id } = await dropOff();
    expect(leftOver(await correct(id, { weight: { net: kg(30) } }))).toEqual([]);
  });
});
