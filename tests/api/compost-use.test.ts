import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { startApi, type TestApi } from '../support/api.js';
import { makeProgramme, type Programme } from '../support/programme.js';

describe('the use of compost', () => {
  let api: TestApi;
  let programme: Programme;
  beforeAll(async () => {
    api = await startApi();
    programme = await makeProgramme(api);
  });
  afterAll(() => api.stop());

  const ask = (query: Record<string, string>, as: string | null = programme.people.volunteer.token) =>
    api.call('GET', `/compost-use?${new URLSearchParams(query).toString()}`, as === null ? {} : { as });
  const bed = { areaValue: '1000', areaUnit: 'ft2' };
  const inch = { depthValue: '1', depthUnit: 'in' };
  const yards = { volumeValue: '4', volumeUnit: 'yd3' };
  const pointersOf = async (query: Record<string, string>) => {
    const { status, body } = await ask(query);
    expect(status).toBe(422);
    return body.errors.map(({ pointer }: { pointer: string }) => pointer);
  };

  it('is told to everybody of the crew, and to nobody else', async () => {
    expect((await ask({ ...bed, ...inch }, null)).status).toBe(401);
    expect((await ask({ ...bed, ...inch }, programme.people.municipalReader.token)).status).toBe(403);
    for (const as of [programme.people.volunteer.token, api.coordinator])
      expect((await ask({ ...bed, ...inch }, as)).status).toBe(200);
  });

  it('tells the volume for an area and a depth, in metric and US units, with mass and containers', async () => {
    const { body } = await ask({ ...bed, ...inch, densityKgM3: '650', containerLitres: '90' });
    expect(body).toMatchObject({
      workedOut: 'volume',
      ...{ areaM2: 92.90304, areaFt2: 1000, depthMm: 25.4, depthIn: 1 },
      ...{ volumeM3: 2.359737, volumeL: 2359.737, volumeYd3: 3.086, volumeFt3: 83.333 },
      ...{ massKg: 1533.829, massLb: 3381.514, containers: 27 },
      entered: { ...{ areaValue: 1000, areaUnit: 'ft2', depthValue: 1, depthUnit: 'in' }, densityKgM3: 650 },
    });
    const codes = body.cautions.map(({ code }: { code: string }) => code);
    expect(codes).toContain('stems-and-trunks');
    expect(codes).not.toContain('deep');
  });

  it('tells the depth of a volume on an area, with a caution over an inch', async () => {
    const { body } = await ask({ ...bed, ...yards });
    expect(body).toMatchObject({ workedOut: 'depth', depthIn: 1.296, depthMm: 32.918, volumeYd3: 4 });
    expect(body).toMatchObject({ massKg: null, massLb: null, containers: null });
    expect(body.cautions[0]).toMatchObject({ code: 'deep' });
    expect(body.cautions[0].source).toContain('common practice');
  });

  it('tells the area that a volume covers', async () => {
    const { body } = await ask({ ...inch, ...yards });
    expect(body).toMatchObject({ workedOut: 'area', areaFt2: 1296, depthIn: 1, volumeFt3: 108 });
  });

  it('wants two of the three, neither one nor all', async () => {
    expect(await pointersOf({})).toEqual(['/areaValue', '/depthValue', '/volumeValue']);
    expect(await pointersOf(bed)).toEqual(['/depthValue', '/volumeValue']);
    expect(await pointersOf({ ...bed, ...inch, ...yards })).toEqual([
      '/areaValue',
      '/depthValue',
      '/volumeValue',
    ]);
  });

  it('wants a unit with each value, and more than nothing', async () => {
    expect(await pointersOf({ areaValue: '10', ...inch })).toEqual(['/areaUnit']);
    expect(await pointersOf({ ...bed, depthUnit: 'in' })).toEqual(['/depthValue']);
    expect(await pointersOf({ ...bed, depthValue: '0', depthUnit: 'in' })).toEqual(['/depthValue']);
    expect(await pointersOf({ ...bed, depthValue: '-1', depthUnit: 'in' })).toEqual(['/depthValue']);
    expect(await pointersOf({ ...bed, depthValue: '1e3', depthUnit: 'in' })).toEqual(['/depthValue']);
    expect(await pointersOf({ ...bed, depthValue: '1', depthUnit: 'furlong' })).toEqual(['/depthUnit']);
    expect(await pointersOf({ ...bed, ...inch, densityKgM3: '0' })).toEqual(['/densityKgM3']);
  });

  it('refuses what no bed is', async () => {
    const both = ['/areaValue', '/depthValue'];
    expect(await pointersOf({ areaValue: '1000000000', areaUnit: 'ha', ...inch })).toEqual(both);
    expect(await pointersOf({ areaValue: '10001', areaUnit: 'ha', ...inch })).toEqual(both);
    expect(await pointersOf({ ...bed, depthValue: '11', depthUnit: 'm' })).toEqual(both);
    const crumb = { areaValue: '0.0000001', areaUnit: 'm2', depthValue: '0.0001', depthUnit: 'cm' };
    expect(await pointersOf(crumb)).toEqual(both);
    const thin = { depthValue: '0.000000001', depthUnit: 'cm' };
    expect(await pointersOf({ ...thin, ...yards })).toEqual(['/depthValue', '/volumeValue']);
  });
});
