import { createHash } from 'node:crypto';
import { v7 } from 'uuid';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { Database } from '#libs/database';
import { Actor } from '../../apps/api/http/access/actor.js';
import { Problem } from '../../apps/api/http/problems/catalogue.js';
import { Work } from '../../apps/api/http/writes/work.js';
import { type ImportLine, ImportIntakeService } from '../../apps/api/intake/import-intake.service.js';
import type { NewLot } from '../../apps/api/intake/lot.js';
import { startApi, type TestApi } from '../support/api.js';
import { auditOf } from '../support/audit.js';
import { intakeRows, lotBody } from '../support/intake.js';
import { makeProgramme, type Programme } from '../support/programme.js';

const keyOf = (line: string) => createHash('sha256').update(line).digest();

describe('historic drop-offs from a file', () => {
  let api: TestApi;
  let programme: Programme;
  let intake: ImportIntakeService;
  let actor: Actor;
  beforeAll(async () => {
    api = await startApi();
    programme = await makeProgramme(api);
    intake = api.app.get(ImportIntakeService, { strict: false });
    const { id } = programme.people.coordinator;
    actor = new Actor(id, 'Cora Wick', v7(), [{ role: 'coordinator', siteId: null, jurisdictionId: null }]);
  });
  afterAll(() => api.stop());

  /** Without an id, as a line of a file is. */
  const item = (pounds: number, changes: object = {}) => {
    const { id: _, ...body } = lotBody(programme, {
      ...{ occurredAt: '2024-11-01T18:00:00Z', depositor: 'public-works' },
      ...{ weight: { net: { value: pounds, unit: 'lb' } }, ...changes },
    });
    return body;
  };

  const commit = (lines: ImportLine[], fail = false) =>
    api.app.get(Work).write(actor, async (write) => {
      const importId = v7();
      await write.sql.query(
        `INSERT INTO import (id, kind, file_name, file_sha256, settings, report, recorded_by)
         VALUES ($1, 'drop-offs', 'lots.csv', $2, '{}', '{}', $3)`,
        [importId, keyOf('file'), actor.personId],
      );
      const added = await intake.insert(write, importId, lines);
      write.audit({ action: 'import.committed', subjectKind: 'import', subjectId: importId, siteId: null });
      if (fail) throw new Error('the last line was bad');
      return { importId, added };
    });

  it('says what each line would become, and keeps nothing', async () => {
    const rows = await intakeRows(api);
    const judged = await intake.judge(actor, [
      item(481.8),
      item(0),
      item(-3),
      item(2, { material: 'moon-dust' }),
    ]);
    expect(
      judged.map((one) =>
        one instanceof Problem ? one.errors![0]!.pointer : one.warnings.map(({ code }) => code),
      ),
    ).toEqual([
      // Before the hub had opened, and before its permit; that it is recorded late goes without saying.
      ['no-permit', 'before-site-opened'],
      ['zero-weight', 'no-permit', 'before-site-opened'],
      '/weight/net/value',
      '/material',
    ]);
    expect(await intakeRows(api)).toEqual(rows);
  });

  it('keeps each line once, in one import or in two', async () => {
    const judged = await intake.judge(actor, [item(481.8), item(867), item(12)]);
    const lots = judged.filter((one): one is NewLot => !(one instanceof Problem));
    expect(lots).toHaveLength(3);
    const lines = lots.map((lot, index) => ({ lot, importKey: keyOf(`line ${index}`) }));
    const rows = await intakeRows(api);
    const { importId, added } = await commit(lines.slice(0, 2));
    expect([...added].sort()).toEqual(
      lots
        .slice(0, 2)
        .map(({ id }) => id)
        .sort(),
    );
    expect(await intakeRows(api)).toMatchObject({
      drop_off: rows['drop_off']! + 2,
      drop_off_revision: rows['drop_off_revision']! + 2,
      // One line a lot, and one of the import.
      audit_event: rows['audit_event']! + 3,
    });
    expect(
      await intake.known(
        programme.hub1.id,
        lines.map(({ importKey }) => importKey),
      ),
    ).toEqual(new Set(lines.slice(0, 2).map(({ importKey }) => importKey.toString('hex'))));
    expect((await auditOf(api, 'drop-off.recorded')).at(-1)).toMatchObject({ personId: actor.personId });

    // The same file with a line more: new ids, known lines.
    const again = await commit(lines.map(({ lot, importKey }) => ({ lot: { ...lot, id: v7() }, importKey })));
    expect(again.added.size).toBe(1);
    expect((await intakeRows(api))['drop_off']).toBe(rows['drop_off']! + 3);
    const kept = await api.call('GET', `/drop-offs/${lots[0]!.id}`, { as: api.coordinator });
    expect(kept.body).toMatchObject({
      importId,
      revision: 1,
      entered: { weight: { net: { value: 481.8, unit: 'lb' } } },
    });
  });

  it('keeps nothing of an import that fails', async () => {
    const rows = await intakeRows(api);
    const [lot] = await intake.judge(actor, [item(5)]);
    if (!lot || lot instanceof Problem) throw new Error('the line must be good');
    await expect(commit([{ lot, importKey: keyOf('another') }], true)).rejects.toThrow(
      'the last line was bad',
    );
    expect(await intakeRows(api)).toEqual(rows);
    const imports = await api.app.get(Database).sql.query('SELECT id FROM import');
    expect(imports).toHaveLength(2);
  });
});
