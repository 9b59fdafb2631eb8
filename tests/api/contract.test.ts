import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { startApi, type TestApi } from '../support/api.js';

describe('the contract', () => {
  let api: TestApi;
  beforeAll(async () => {
    api = await startApi();
  });
  afterAll(() => api.stop());

  it('refers only to shapes that it holds', async () => {
    const { payload } = await api.app.inject({ url: '/api/openapi.json' });
    const { schemas } = (JSON.parse(payload) as { components: { schemas: object } }).components;
    const referred = [...payload.matchAll(/"#\/components\/schemas\/([^"]*)"/g)].map(([, name]) => name);
    expect(referred.length).toBeGreaterThan(100);
    expect(referred.filter((name) => !Object.hasOwn(schemas, name ?? ''))).toEqual([]);
  });
});
