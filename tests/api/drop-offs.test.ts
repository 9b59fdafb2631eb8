import { v7 } from 'uuid';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { startApi, type TestApi } from '../support/api.js';
import { auditOf } from '../support/audit.js';
import { intakeRows, lotBody, pointersOf } from '../support/intake.js';
import { made, makeProgramme, type Programme } from '../support/programme.js';

describe('drop-offs', () => {
  let api: TestApi;
  let programme: Programme;
  beforeAll(async () => {
    api = await startApi();
    programme = await makeProgramme(api);
  });
  afterAll(() => api.stop());

  const volunteer = () => programme.people.volunteer.token;
  const post = (body: unknown, as = volunteer()) => api.call('POST', '/drop-offs', { as, body });
  const lot = (changes: object = {}) => lotBody(programme, changes);
  const lb = (value: number) => ({ value, unit: 'lb' });

  it('keeps a lot in a container of known tare, in whole grams, with what was typed beside it', async () => {
    const body = lot({ rejects: [{ contaminant: 'film-plastic', mass: lb(0.4), wentTo: 'landfill' }] });
    const answer = await post(body);
    expect(answer.status).toBe(201);
    // 31.2 lb = 14 152.081944 g, 2.1 lb = 952.543977 g, 0.4 lb = 181.436948 g: each rounded once, at entry.
    expect(answer.body).toMatchObject({
      ...{ id: body.id, revision: 1, basis: 'scale', siteId: programme.hub1.id, shiftId: null },
      ...{ grossKg: 14.152, tareKg: 0.953, netKg: 13.199, rejectedKg: 0.181, acceptedKg: 13.018 },
      ...{
        unassignedKg: 13.018,
        material: 'food-scraps',
        depositor: 'household',
        voided: false,
        reason: null,
      },
      jurisdictionId: programme.jurisdictions.larkHollow.id,
      containerId: programme.containers.bucket.id,
      entered: { weight: body.weight },
      rejects: [
        { contaminant: 'film-plastic', massKg: 0.181, wentTo: 'landfill', entered: { mass: lb(0.4) } },
      ],
      occurredAt: body.occurredAt,
      recordedBy: programme.people.volunteer.id,
      warnings: [],
    });
    const [line] = (await auditOf(api, 'drop-off.recorded')).filter((row) => row.subjectId === body.id);
    expect(line).toMatchObject({ personId: programme.people.volunteer.id, siteId: programme.hub1.id });
  });

  it.each([
    [
      'gross and tare',
      { gross: { value: 30, unit: 'kg' }, tare: { value: 2.5, unit: 'kg' } },
      [30, 2.5, 27.5],
    ],
    ['net', { net: { value: 12, unit: 'oz' } }, [null, null, 0.34]],
    ['nothing but the container', { gross: lb(2.1), tare: lb(2.1) }, [0.953, 0.953, 0]],
  ])('keeps a weight given as %s', async (_, weight, [grossKg, tareKg, netKg]) => {
    const answer = await post(lot({ weight }));
    expect(answer.status).toBe(201);
    expect(answer.body).toMatchObject({ basis: 'scale', grossKg, tareKg, netKg, entered: { weight } });
  });

  it('estimates a lot that was taken by volume, and says by which density', async () => {
    const volume = { value: 5, unit: 'gal' };
    const answer = await post(lot({ weight: undefined, volume }));
    expect(answer.status).toBe(201);
    const material = await api.call('GET', '/materials/food-scraps', { as: volunteer() });
    const { typical: densityKgM3, source: densitySource } = material.body.bulkDensityKgM3;
    expect(answer.body).toMatchObject({
      ...{ basis: 'volume', volumeL: 18.927, densityKgM3, densitySource },
      ...{ grossKg: null, tareKg: null, entered: { volume } },
    });
    expect(answer.body.netKg).toBeCloseTo((18.927 * densityKgM3) / 1000, 2);
  });

  it('takes what came from another jurisdiction, and now where no time is said', async () => {
    const { thistleFord } = programme.jurisdictions;
    const before = Date.now();
    const answer = await post(lot({ occurredAt: undefined, jurisdictionId: thistleFord.id }));
    expect(answer.body.jurisdictionId).toBe(thistleFord.id);
    expect(Date.parse(answer.body.occurredAt)).toBeGreaterThanOrEqual(before);
  });

  it('answers an entry that is sent again with the first result, even after a correction', async () => {
    const body = lot({ rejects: [{ contaminant: 'glass', mass: lb(1), wentTo: 'landfill' }] });
    const first = await post(body);
    const rows = await intakeRows(api);
    const again = await post(body);
    expect([again.status, again.body]).toEqual([200, first.body]);
    expect(await intakeRows(api)).toEqual(rows);

    const { id, siteId, ...stated } = body;
    const corrected = await api.call('POST', `/drop-offs/${id}/corrections`, {
      as: programme.people.manager.token,
      body: {
        ...{ ...stated, weight: { net: lb(20) }, rejects: [], reason: 'Read the wrong line' },
        jurisdictionId: programme.jurisdictions.larkHollow.id,
      },
    });
    expect([corrected.status, siteId]).toEqual([201, programme.hub1.id]);
    const later = await post(body);
    expect([later.status, later.body]).toEqual([200, first.body]);
  });

  it('refuses another body under the same id', async () => {
    const body = lot();
    expect((await post(body)).status).toBe(201);
    const rows = await intakeRows(api);
    const other = await post({ ...body, depositor: 'garden' });
    expect([other.status, other.body.type]).toEqual([409, 'urn:heapwright:problem:other-body']);
    const elsewhere = await post(
      { ...body, siteId: programme.hub2.id, weight: { net: lb(1) } },
      api.coordinator,
    );
    expect(elsewhere.status).toBe(409);
    expect(await intakeRows(api)).toEqual(rows);
  });

  it('keeps one of many copies that arrive at the same moment', async () => {
    const body = lot({ rejects: [{ contaminant: 'metal', mass: lb(0.2), wentTo: 'recycling' }] });
    const answers = await Promise.all(Array.from({ length: 8 }, () => post(body)));
    expect(answers.map((answer) => answer.status).sort()).toEqual([200, 200, 200, 200, 200, 200, 200, 201]);
    for (const answer of answers) expect(answer.body).toEqual(answers[0]!.body);
    expect(
      await auditOf(api, 'drop-off.recorded').then((rows) => rows.filter((row) => row.subjectId === body.id)),
    ).toHaveLength(1);
  });

  it('lets in who records at that hub, and nobody else', async () => {
    const { operator, otherManager, municipalReader, coordinator } = programme.people;
    const rows = await intakeRows(api);
    expect((await api.call('POST', '/drop-offs', { body: lot() })).status).toBe(401);
    expect((await post(lot(), municipalReader.token)).body.type).toBe('urn:heapwright:problem:not-allowed');
    expect((await post(lot(), operator.token)).body.type).toBe('urn:heapwright:problem:other-site');
    expect((await post(lot(), otherManager.token)).status).toBe(403);
    expect(await intakeRows(api)).toEqual(rows);
    expect((await post(lot(), coordinator.token)).status).toBe(201);
  });

  it('refuses what names a thing of another site, or none', async () => {
    const rows = await intakeRows(api);
    const { containers, instruments, yard1 } = programme;
    const gross = lb(60);
    const cases: [object, string[]][] = [
      [{ weight: { gross, containerId: containers.tote.id } }, ['/weight/containerId']],
      [{ weight: { gross, containerId: v7() } }, ['/weight/containerId']],
      [{ instrumentId: instruments.thermometer.id }, ['/instrumentId']],
      [{ instrumentId: v7() }, ['/instrumentId']],
      [{ jurisdictionId: v7() }, ['/jurisdictionId']],
      [{ shiftId: v7() }, ['/shiftId']],
      [{ material: 'moon-dust' }, ['/material']],
      [
        { material: 'moon-dust', jurisdictionId: v7(), instrumentId: v7() },
        ['/instrumentId', '/jurisdictionId', '/material'],
      ],
    ];
    for (const [changes, pointers] of cases) {
      const answer = await post(lot(changes));
      expect(answer.status, JSON.stringify(changes)).toBe(422);
      expect(pointersOf(answer)).toEqual(pointers);
    }
    const yard = await post(lot({ siteId: yard1.id, weight: { net: lb(1) } }), api.coordinator);
    expect([yard.status, ...pointersOf(yard)]).toEqual([422, '/siteId']);
    const nowhere = await post(lot({ siteId: v7() }), api.coordinator);
    expect([nowhere.status, ...pointersOf(nowhere)]).toEqual([422, '/siteId']);
    expect(await intakeRows(api)).toEqual(rows);
  });

  it('lists by site, shift, time and what is left, newest first, a page at a time', async () => {
    const siteId = programme.hub2.id;
    const as = api.coordinator;
    const at = (minute: number) => `2026-03-02T10:${String(minute).padStart(2, '0')}:00-07:00`;
    const bodies = [5, 1, 9, 3, 7].map((minute) =>
      lot({ siteId, occurredAt: at(minute), weight: { net: lb(minute) } }),
    );
    for (const body of bodies) await made(api, '/drop-offs', body, as);
    const list = (query: string) => api.call('GET', `/drop-offs?siteId=${siteId}${query}`, { as });
    const minutes = (answer: { body: { items: { entered: { weight: { net: { value: number } } } }[] } }) =>
      answer.body.items.map((item) => item.entered.weight.net.value);

    expect(minutes(await list(''))).toEqual([9, 7, 5, 3, 1]);
    const first = await list('&limit=2');
    const second = await list(`&limit=2&cursor=${first.body.next}`);
    const third = await list(`&limit=2&cursor=${second.body.next}`);
    expect([minutes(first), minutes(second), minutes(third)]).toEqual([[9, 7], [5, 3], [1]]);
    expect(third.body.next).toBeNull();
    const between = `&from=${encodeURIComponent(at(3))}&to=${encodeURIComponent(at(7))}`;
    expect(minutes(await list(between))).toEqual([5, 3]);

    await api.call('POST', `/drop-offs/${bodies[0]!.id}/void`, { as, body: { reason: 'Weighed twice' } });
    expect(minutes(await list('&unassigned=true'))).toEqual([9, 7, 3, 1]);
    expect((await list('')).body.items[2]).toMatchObject({ voided: true, unassignedKg: 0 });
    expect(pointersOf(await list('&from=2026-02-30T00:00:00Z'))).toEqual(['/from']);
    expect(pointersOf(await list('&limit=201'))).toEqual(['/limit']);
  });

  it('shows a volunteer their own lots and those of their shift, and an operator all of the site', async () => {
    const { people, hub1 } = programme;
    const own = await post(lot());
    const others = await post(lot(), people.manager.token);
    const see = async (token: string, id: string) => {
      const one = await api.call('GET', `/drop-offs/${id}`, { as: token });
      const list = await api.call('GET', '/drop-offs?limit=200', { as: token });
      return [one.status, list.body.items.some((item: { id: string }) => item.id === id)];
    };
    expect(await see(volunteer(), own.body.id)).toEqual([200, true]);
    expect(await see(volunteer(), others.body.id)).toEqual([403, false]);
    expect(await see(people.manager.token, own.body.id)).toEqual([200, true]);
    expect(await see(people.otherManager.token, own.body.id)).toEqual([403, false]);

    const shift = await made(
      api,
      '/shifts',
      { siteId: hub1.id, occurredAt: '2026-05-01T09:00:00-06:00' },
      people.manager.token,
    );
    const ofShift = await made(api, '/drop-offs', lot({ shiftId: shift.id }), people.manager.token);
    expect(await see(volunteer(), ofShift.id)).toEqual([200, true]);
    await api.call('POST', `/shifts/${shift.id}/close`, {
      as: people.manager.token,
      body: { countedLots: 1 },
    });
    expect(await see(volunteer(), ofShift.id)).toEqual([403, false]);
  });

  it('answers what is not there', async () => {
    for (const id of [v7(), 'nonsense', '%00']) {
      expect((await api.call('GET', `/drop-offs/${id}`, { as: api.coordinator })).status).toBe(404);
    }
    expect((await api.call('GET', `/drop-offs/${v7()}`)).status).toBe(401);
  });
});
