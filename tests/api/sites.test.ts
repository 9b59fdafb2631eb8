import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { startApi, type TestApi } from '../support/api.js';
import { makeProgramme, type Programme } from '../support/programme.js';

describe('sites', () => {
  let api: TestApi;
  let programme: Programme;
  beforeAll(async () => {
    api = await startApi();
    programme = await makeProgramme(api);
  });
  afterAll(() => api.stop());

  it('keeps bays in ground order, with what was typed', async () => {
    const { yard1, people } = programme;
    const answer = await api.call('GET', `/sites/${yard1.id}`, { as: people.volunteer.token });
    expect(answer.status).toBe(200);
    expect(answer.body.bays.map((bay: { code: string }) => bay.code)).toEqual(['A1', 'A2', 'A3', 'A4']);
  });
});
