import { v7 } from 'uuid';
import { afterAll, beforeEach, describe, expect, it } from 'vitest';
import { canonicalJson, type DiversionReport, sealOf } from '#libs/documents';
import { type Answer, startApi, type TestApi } from '../support/api.js';
import { asSuperuser } from '../support/superuser.js';
import { made, makeProgramme, PASSWORD, type Programme } from '../support/programme.js';
import { bringLoads, issueBody, LATE, lotOf } from '../support/reports.js';

describe('an issued report', () => {
  let api: TestApi;
  let programme: Programme;
  let coordinator: string;

  const post = (path: string, body: object): Promise<Answer> =>
    api.call('POST', `/diversion-reports${path}`, { as: coordinator, body });
  const issued = async (): Promise<{ id: string; seal: string; document: DiversionReport }> => {
    const { body } = await post('', issueBody(programme));
    const file = await api.call('GET', `/diversion-reports/${body.id as string}.json`, { as: coordinator });
    return { id: body.id, seal: body.versions[0].seal, document: file.body };
  };
  const faults = async (): Promise<string[]> => {
    const { body } = await api.call('GET', '/audit/verification', { as: coordinator });
    return body.faults.map(({ text }: { text: string }) => text);
  };
  const outcomes = (answers: readonly Answer[]) =>
    answers.map(({ status, body }) =>
      status === 409 ? `409 ${String(body.type).split(':').at(-1)}` : `${status}`,
    );

  beforeEach(async () => {
    await (api as TestApi | undefined)?.stop();
    api = await startApi();
    programme = await makeProgramme(api);
    coordinator = programme.people.coordinator.token;
    await bringLoads(api, programme);
  });
  afterAll(() => api.stop());

  it('is issued once, however many ask for it at the same moment', async () => {
    const answers = await Promise.all([1, 2, 3].map(() => post('', issueBody(programme))));
    expect(outcomes(answers).sort()).toEqual(['201', '409 report-issued', '409 report-issued']);
    const id = v7();
    const quarter = { ...issueBody(programme), yearOf: undefined, from: '2025-07-01', to: '2025-10-01', id };
    const same = await Promise.all([1, 2, 3].map(() => post('', quarter)));
    expect(outcomes(same).sort()).toEqual(['200', '200', '201']);
    expect(new Set(same.map(({ text }) => text)).size).toBe(1);
  });

  it('is issued anew once, however many ask for it at the same moment', async () => {
    const { id } = await issued();
    await made(api, '/drop-offs', lotOf(programme, LATE));
    const body = { password: PASSWORD, reason: 'A load came in late' };
    const answers = await Promise.all([1, 2, 3].map(() => post(`/${id}/versions`, body)));
    expect(outcomes(answers).sort()).toEqual(['201', '409 nothing-changed', '409 nothing-changed']);
  });

  it('tells figures and rows of one moment while lots come in', async () => {
    const bring = Promise.all(
      Array.from({ length: 12 }, () => made(api, '/drop-offs', lotOf(programme, LATE))),
    );
    const { id, document } = await issued();
    await bring;
    const rows = await api.call('GET', `/diversion-reports/${id}/rows.csv`, { as: coordinator });
    const masses = rows.text
      .trimEnd()
      .split('\r\n')
      .slice(1)
      .map((line) => Number(line.split(',').at(-1)));
    expect(masses.reduce((sum, massG) => sum + massG, 0) / 1000).toBeCloseTo(
      document.figures.total.acceptedKg,
      6,
    );
    expect(document.figures.total.lots).toBe(masses.length);
    expect(await faults()).toEqual([]);
  });

  it('is found out when somebody with the whole server alters the document', async () => {
    const { seal } = await issued();
    await asSuperuser(api.databaseUrl, async (client) => {
      await client.query('ALTER TABLE sealed_document DROP CONSTRAINT sealed_document_digest');
      await client.query(`UPDATE sealed_document SET document = replace(document, '13.94', '23.94')`);
    });
    expect(await faults()).toEqual([`The document sealed as ${seal} was altered.`]);
    const known = await api.call('GET', `/seals/${seal}`, { as: coordinator });
    expect(known.body).toMatchObject({ intact: false });
  });

  it('is found out when a document with another seal takes its place', async () => {
    const { id, seal, document } = await issued();
    const other = { ...document, printed: { ...document.printed, acceptedShortTons: '23.94' } };
    await asSuperuser(api.databaseUrl, async (client) => {
      await client.query('UPDATE sealed_document SET document = $1, seal = $2', [
        canonicalJson(other),
        sealOf(other),
      ]);
    });
    expect(await faults()).toEqual([
      `The document sealed as ${seal} is not here any more.`,
      `The sealed document of version 1 of the diversion report ${id} is not the one that was issued.`,
    ]);
  });

  it('is found out when its rows were altered', async () => {
    const { id } = await issued();
    const change = `UPDATE diversion_report_row SET mass_g = mass_g + 1 WHERE revision = 1`;
    await asSuperuser(api.databaseUrl, async (client) => {
      await client.query('SET session_replication_role = origin');
      await expect(client.query(change)).rejects.toThrow(/keeps its rows/);
      const more = `INSERT INTO diversion_report_row SELECT report_id, version, kind, gen_random_uuid(), part, revision,
        occurred_at, site_id, material_code, basis, from_place, to_place, mass_g FROM diversion_report_row`;
      await expect(client.query(more)).rejects.toThrow(/rows stay as they are/);
      await client.query('SET session_replication_role = replica');
      await client.query(change);
    });
    expect(await faults()).toEqual([`The rows of version 1 of the diversion report ${id} were altered.`]);
  });
});
