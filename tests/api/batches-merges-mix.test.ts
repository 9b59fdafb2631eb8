import fc from 'fast-check';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { mergedLines, type MaterialLine, type MergedPart } from '../../apps/api/mixing/merged-lines.js';
import { startApi, type TestApi } from '../support/api.js';
import { made, makeProgramme, type Programme } from '../support/programme.js';
import { BEGUN_AT, lotAtHub1, makeYard, type Yard } from '../support/yard-work.js';

const kg = (value: number) => ({ value, unit: 'kg' });

describe('the mix of a batch that others were merged into', () => {
  let api: TestApi;
  let programme: Programme;
  let yard: Yard;
  beforeAll(async () => {
    api = await startApi();
    programme = await makeProgramme(api);
    yard = await makeYard(api, programme);
  });
  afterAll(() => api.stop());

  const post = (path: string, body: object) => made(api, path, body, yard.manager.token);
  const begin = async () => ((await yard.begin()) as { id: string }).id;
  const add = (id: string, material: string, massKg: number) =>
    post(`/batches/${id}/amendments`, { from: 'stock', material, mass: kg(massKg), occurredAt: BEGUN_AT });
  const mixOf = async (id: string) =>
    (await api.call('GET', `/batches/${id}/mix`, { as: yard.operator.token })).body;
  const massesOf = async (id: string) =>
    Object.fromEntries(
      (await mixOf(id)).materials.map(({ code, massKg }: { code: string; massKg: number }) => [code, massKg]),
    );

  it('counts their materials in proportion, to the mass that was merged', async () => {
    const [first, second, taker] = [await begin(), await begin(), await begin()];
    await add(first, 'leaves', 60);
    await add(first, 'wood-chips', 30);
    await add(second, 'leaves', 10);
    await post(`/batches/${second}/merges`, { fromBatchId: first, mass: kg(45) });
    expect(await massesOf(second)).toEqual({ leaves: 40, 'wood-chips': 15 });
    const lot = await lotAtHub1(api, programme, 8_000, { basis: 'volume' });
    await post(`/batches/${taker}/assignments`, { items: [{ dropOffId: lot }] });
    await post(`/batches/${taker}/merges`, { fromBatchId: second, mass: kg(27.5) });
    expect(await massesOf(taker)).toEqual({ 'food-scraps': 8, leaves: 20, 'wood-chips': 7.5 });
    expect(await mixOf(taker)).toMatchObject({ massKg: 35.5, estimatedKg: 8 });
  });

  it('is what it was once the batch is built: what is merged in later is no part of it', async () => {
    const [giver, taker] = [await begin(), await begin()];
    await add(giver, 'leaves', 60);
    await add(taker, 'wood-chips', 30);
    await yard.enter(taker, 'active');
    await post(`/batches/${taker}/merges`, { fromBatchId: giver });
    expect(await massesOf(taker)).toEqual({ 'wood-chips': 30 });
    expect(await massesOf(giver)).toEqual({ leaves: 60 });
  });
});

describe('merged lines', () => {
  const line = fc
    .record({ materialCode: fc.constantFrom('a', 'b', 'c'), massG: fc.nat(1e7), share: fc.nat(100) })
    .map(({ materialCode, massG, share }): MaterialLine => {
      const estimatedG = Math.floor((massG * share) / 100);
      return { materialCode, massG, estimatedG, estimatedMl: estimatedG * 2 };
    });

  it('sum to what was merged and what went in, whatever was merged into what', () => {
    fc.assert(
      fc.property(
        fc.array(fc.record({ lines: fc.array(line), merged: fc.nat(100), into: fc.nat(100) }), {
          minLength: 1,
        }),
        (batches) => {
          const heldG = new Map<number, number>();
          let expectedG = 0;
          const parts = batches.map(({ lines, merged, into }, index): MergedPart => {
            const own = lines.reduce((sum, { massG }) => sum + massG, heldG.get(index) ?? 0);
            const last = index === batches.length - 1;
            const taker = index + 1 + (into % (batches.length - index - 1 || 1));
            const mergedG = last ? 0 : Math.floor((own * merged) / 100);
            if (last) expectedG = own;
            else heldG.set(taker, (heldG.get(taker) ?? 0) + mergedG);
            return { batchId: String(index), takerId: last ? null : String(taker), mergedG, lines };
          });
          const lines = mergedLines(parts);
          expect(lines.reduce((sum, { massG }) => sum + massG, 0)).toBe(expectedG);
          for (const { massG, estimatedG, estimatedMl } of lines) {
            expect(estimatedG).toBeLessThanOrEqual(massG);
            expect(estimatedMl).toBeCloseTo(estimatedG * 2, 3);
          }
        },
      ),
    );
  });
});
