import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { eachFigure, startingMaterials, startingWasteCategories } from '#libs/materials';
import { createApp } from '../../apps/api/app.js';
import { startApi, type TestApi } from '../support/api.js';
import { auditOf } from '../support/audit.js';
import { freshDatabase } from '../support/database.js';
import { figuresFrom } from '../support/figures-from.js';
import { makePersona } from '../support/programme.js';

describe('materials', () => {
  let api: TestApi;
  beforeAll(async () => {
    api = await startApi();
  });
  afterAll(() => api.stop());

  const post = (body: object) => api.call('POST', '/materials', { as: api.coordinator, body });
  const patch = (code: string, version: number, body: object) =>
    api.call('PATCH', `/materials/${code}`, {
      as: api.coordinator,
      body,
      headers: { 'if-match': `"${version}"` },
    });
  const faultsOf = (answer: { body: { errors: { pointer: string }[] } }) =>
    answer.body.errors.map(({ pointer }) => pointer);

  it('starts with the list of the library, figure for figure, each with its own source', async () => {
    const { body } = await api.call('GET', '/materials?limit=200', { as: api.coordinator });
    const expected = startingMaterials
      .map((material) => {
        const figures = eachFigure((figure) => {
          const { measuredOn: _, ...known } = material[figure] ?? { measuredOn: null };
          return material[figure] && known;
        });
        const wasteCategory = startingWasteCategories[material.code] ?? null;
        return { ...material, ...figures, wasteCategory, retired: false, version: 1 };
      })
      .sort((a, b) => (a.code < b.code ? -1 : 1));
    expect(body.items).toEqual(expected);
    expect(body.next).toBeNull();
  });

  it('adds a material of the programme’s own, whose figures are its own word', async () => {
    const moisturePercent = { typical: 78.5, min: 70, source: 'Weighed and dried, 12 buckets, May 2026' };
    const answer = await post({
      ...{ code: 'brewers-grain', name: 'Brewer’s grain', class: 'nitrogen', moisturePercent },
      ...{ traits: ['salty', 'animal-product', 'salty'], wasteCategory: 'food' },
    });
    expect(answer.status).toBe(201);
    expect(answer.body).toEqual({
      ...{ code: 'brewers-grain', name: 'Brewer’s grain', class: 'nitrogen', kind: 'organic' },
      ...eachFigure(() => null),
      moisturePercent: { ...moisturePercent, max: null, verification: 'local' },
      ...{ traits: ['animal-product', 'salty'], caution: null, wasteCategory: 'food' },
      ...{ retired: false, version: 1 },
    });
    const path = '/materials/brewers-grain';
    expect((await api.call('GET', path, { as: api.coordinator })).body).toEqual(answer.body);
    const again = await post({ code: 'leaves', name: 'Leaves', class: 'carbon' });
    expect(again.body.type).toBe('urn:heapwright:problem:taken');
  });

  it('changes a figure only together with where it comes from, and then as its own word', async () => {
    const silent = await patch('food-scraps', 1, { bulkDensityKgM3: { typical: 500 } });
    expect([silent.status, ...faultsOf(silent)]).toEqual([422, '/bulkDensityKgM3/source']);
    const before = (await api.call('GET', '/materials/food-scraps', { as: api.coordinator })).body;
    const bulkDensityKgM3 = { typical: 500, min: 420, max: 610, source: 'Weighed at the hub, 40 totes' };
    const changed = await patch('food-scraps', 1, { bulkDensityKgM3 });
    expect(changed.body).toEqual({
      ...before,
      bulkDensityKgM3: { ...bulkDensityKgM3, verification: 'local' },
      version: 2,
    });
    expect((await patch('food-scraps', 1, { name: 'Scraps' })).status).toBe(412);
    const [line] = (await auditOf(api, 'material.changed')).slice(-1);
    expect(line?.detail).toEqual({
      bulkDensityKgM3: { from: before.bulkDensityKgM3, to: { ...bulkDensityKgM3, verification: 'local' } },
    });
  });

  it('clears a figure that is null, and leaves those alone that are left out', async () => {
    const figures = { nitrogenPercentDry: 1, moisturePercent: 40 };
    await post({ code: 'old-hay', name: 'Old hay', class: 'carbon', ...figuresFrom('typed', figures) });
    const { body } = await patch('old-hay', 1, { moisturePercent: null, name: 'Hay of last year' });
    expect(body).toMatchObject({ name: 'Hay of last year', moisturePercent: null });
    expect(body.nitrogenPercentDry).toMatchObject({ typical: 1, min: null, max: null, source: 'typed' });
  });

  it('says of what waste a material is, and takes it back', async () => {
    const said = await patch('seaweed', 1, { wasteCategory: 'mixed-organics' });
    expect(said.body).toMatchObject({ wasteCategory: 'mixed-organics', version: 2 });
    expect((await patch('seaweed', 2, { name: 'Kelp' })).body.wasteCategory).toBe('mixed-organics');
    expect((await patch('seaweed', 3, { wasteCategory: null })).body.wasteCategory).toBeNull();
    const [line] = (await auditOf(api, 'material.changed')).slice(-1);
    expect(line?.detail).toEqual({ wasteCategory: { from: 'mixed-organics', to: null } });
  });

  it('retires a material, and brings it back', async () => {
    const retired = await patch('wood-ash', 1, { retired: true });
    expect(retired.body).toMatchObject({ retired: true, version: 2 });
    const back = await patch('wood-ash', 2, { retired: false });
    expect(back.body).toMatchObject({ retired: false, version: 3 });
    const details = (await auditOf(api, 'material.changed')).filter(
      ({ subjectId }) => subjectId === 'wood-ash',
    );
    expect(details.map(({ detail }) => detail)).toEqual([
      { retired: { from: false, to: true } },
      { retired: { from: true, to: false } },
    ]);
  });

  const of = (figures: Parameters<typeof figuresFrom>[1]) => figuresFrom('a laboratory', figures);
  const ranged = (typical: number, min: number | null, max: number | null) => ({
    ...{ typical, min, max, source: 'a laboratory' },
  });
  it.each<[object, string[]]>([
    [{ code: 'Food scraps' }, ['/code']],
    [{ class: 'green' }, ['/class']],
    [{ kind: 'plastic' }, ['/kind']],
    [{ wasteCategory: 'garden' }, ['/wasteCategory']],
    [{ traits: ['smelly'] }, ['/traits']],
    [{ source: 'a laboratory' }, ['/source']],
    [{ nitrogenPercentDry: 2 }, ['/nitrogenPercentDry']],
    [of({ nitrogenPercentDry: 101 }), ['/nitrogenPercentDry/typical']],
    [of({ nitrogenPercentDry: -0.1 }), ['/nitrogenPercentDry/typical']],
    [of({ carbonToNitrogen: 0 }), ['/carbonToNitrogen/typical']],
    [of({ bulkDensityKgM3: 0 }), ['/bulkDensityKgM3/typical']],
    [{ moisturePercent: { typical: '70', source: 'a laboratory' } }, ['/moisturePercent/typical']],
    [{ moisturePercent: { typical: 70, source: '' } }, ['/moisturePercent/source']],
    [
      { moisturePercent: { ...ranged(70, null, null), verification: 'verified' } },
      ['/moisturePercent/verification'],
    ],
    [of({ moisturePercent: 100 }), ['/moisturePercent/typical']],
    [{ moisturePercent: ranged(90, 80, 100) }, ['/moisturePercent/max']],
    [{ kind: 'water', ...of({ moisturePercent: 99 }) }, ['/moisturePercent/typical']],
    [{ kind: 'water', ...of({ ashPercentDry: 1 }) }, ['/ashPercentDry/typical']],
    [{ kind: 'mineral', ...of({ nitrogenPercentDry: 1 }) }, ['/nitrogenPercentDry/typical']],
    [
      { kind: 'inert-carbon', ...of({ carbonPercentDry: 80, carbonToNitrogen: 300 }) },
      ['/carbonPercentDry/typical', '/carbonToNitrogen/typical'],
    ],
    [{ moisturePercent: ranged(50, 60, 40) }, ['/moisturePercent/min', '/moisturePercent/max']],
    [of({ nitrogenPercentDry: 6, carbonToNitrogen: 17 }), ['/carbonToNitrogen/typical']],
    [of({ carbonPercentDry: 60, ashPercentDry: 41 }), ['/carbonPercentDry/typical']],
    [of({ nitrogenPercentDry: 0, carbonToNitrogen: 500 }), ['/carbonToNitrogen/typical']],
    [
      of({ nitrogenPercentDry: 2, carbonPercentDry: 40, carbonToNitrogen: 22.1 }),
      ['/carbonToNitrogen/typical'],
    ],
  ])('refuses %j at its place', async (wrong, pointers) => {
    const answer = await post({ code: 'nope', name: 'Nope', class: 'carbon', ...wrong });
    expect([answer.status, ...faultsOf(answer)]).toEqual([422, ...pointers]);
    expect((await api.call('GET', '/materials/nope', { as: api.coordinator })).status).toBe(404);
  });

  it('takes N, C and C:N together within a tenth of each other, as published figures are', async () => {
    const figures = of({ nitrogenPercentDry: 2, carbonPercentDry: 40, carbonToNitrogen: 22 });
    const answer = await post({ code: 'near-enough', name: 'Near enough', class: 'carbon', ...figures });
    expect(answer.status, answer.text).toBe(201);
  });

  it('judges a changed figure together with those that stay, and tells of the changed one', async () => {
    const figures = of({ nitrogenPercentDry: 2, carbonToNitrogen: 20 });
    await post({ code: 'pressed-fruit', name: 'Pressed fruit', class: 'nitrogen', ...figures });
    const more = await patch('pressed-fruit', 1, of({ nitrogenPercentDry: 5 }));
    expect([more.status, ...faultsOf(more)]).toEqual([422, '/nitrogenPercentDry/typical']);
    const mineral = await patch('pressed-fruit', 1, { kind: 'mineral' });
    expect([mineral.status, ...faultsOf(mineral)]).toEqual([
      ...[422, '/nitrogenPercentDry/typical', '/carbonToNitrogen/typical'],
    ]);
    const cleared = { kind: 'mineral', nitrogenPercentDry: null, carbonToNitrogen: null };
    expect((await patch('pressed-fruit', 1, cleared)).body).toMatchObject({ kind: 'mineral', version: 2 });
  });

  it.each(['no-such', '%00', 'x'.repeat(90)])('knows no material %s', async (code) => {
    const { status } = await api.call('GET', `/materials/${code}`, { as: api.coordinator });
    expect([404, 422]).toContain(status);
  });

  it('lets managers read and not change', async () => {
    const { body: town } = await api.call('POST', '/jurisdictions', {
      as: api.coordinator,
      body: { name: 'Town of Lark Hollow', reportingYearStart: '07-01' },
    });
    const { body: site } = await api.call('POST', '/sites', {
      as: api.coordinator,
      body: {
        ...{ code: 'QS', name: 'Quill Street hub', takesDropOffs: true, runsBatches: false },
        ...{ timeZone: 'America/Denver', jurisdictionId: town.id },
      },
    });
    const manager = await makePersona(api, 'Maud Ferrier', [{ role: 'manager', siteId: site.id }]);
    expect((await api.call('GET', '/materials/leaves', { as: manager.token })).status).toBe(200);
    const options = { as: manager.token, body: { retired: true }, headers: { 'if-match': '"1"' } };
    expect((await api.call('PATCH', '/materials/leaves', options)).status).toBe(403);
    expect((await api.call('PATCH', '/materials/leaves', { body: {} })).status).toBe(401);
  });
});

describe('the starting list', () => {
  it('is loaded once, however many processes start at one moment, and never again', async () => {
    const database = await freshDatabase();
    const settings = {
      ...{ databaseUrl: database.url, port: 0, host: '127.0.0.1', poolSize: 2 },
      ...{
        firstEmail: '',
        firstName: '',
        firstPassword: '',
        trustedProxies: ['loopback'],
        programme: 'Lark Hollow Compost',
        publicUrl: '',
      },
    };
    const apps = await Promise.all([1, 2, 3].map(() => createApp(settings, ['error'])));
    apps.push(await createApp(settings, ['error']));
    const [app] = apps;
    const lines = await auditOf({ app: app! }, 'materials.loaded');
    await Promise.all(apps.map((each) => each.close()));
    await database.drop();
    expect(lines).toMatchObject([{ personId: null, detail: { count: startingMaterials.length } }]);
  });
});
