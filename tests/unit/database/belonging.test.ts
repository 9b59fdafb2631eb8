import { v7 } from 'uuid';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { Database, refusalOf, type Sql } from '#libs/database';
import { freshDatabase, type TestDatabase } from '../../support/database.js';

/** What belongs to a record comes with it, whole, or not at all. */
describe('rows that belong to others', () => {
  let home: TestDatabase;
  let database: Database;
  const [town, site, person] = [v7(), v7(), v7()];
  beforeAll(async () => {
    home = await freshDatabase();
    database = new Database({ url: home.url, max: 2 });
    const { sql } = database;
    await sql.query(
      `INSERT INTO jurisdiction (id, name, reporting_year_start) VALUES ($1, 'Lark Hollow', '07-01')`,
      [town],
    );
    await sql.query(
      `INSERT INTO site (id, code, name, takes_drop_offs, runs_batches, time_zone, jurisdiction_id)
       VALUES ($1, 'QS', 'Quill Street', true, true, 'America/Denver', $2)`,
      [site, town],
    );
    await sql.query(
      `INSERT INTO person (id, email, display_name, password_hash) VALUES ($1, 'vera@larkhollow.example', 'Vera', 'x')`,
      [person],
    );
    await sql.query(
      `INSERT INTO material (code, name, class)
       VALUES ('food-scraps', 'Food scraps', 'nitrogen'), ('overs', 'Overs', 'carbon') ON CONFLICT DO NOTHING`,
    );
  });
  afterAll(async () => {
    await database.close();
    await home.drop();
  });

  const constraintOf = (work: Promise<unknown>) =>
    work.then(
      () => null,
      (error: unknown) => refusalOf(error)?.constraint,
    );
  const putLot = async (sql: Sql, id: string, rejectedG: number) => {
    await sql.query(`INSERT INTO drop_off (id, site_id, body_sha256) VALUES ($1, $2, '\\x00')`, [id, site]);
    await sql.query(
      `INSERT INTO drop_off_revision (drop_off_id, revision, site_id, occurred_at, material_code, jurisdiction_id,
         depositor, basis, net_g, rejected_g, accepted_g, entered, warnings, recorded_by)
       VALUES ($1, 1, $2, now(), 'food-scraps', $3, 'household', 'scale', 5000, $4, 5000 - $4::int, '{}', '[]', $5)`,
      [id, site, town, rejectedG, person],
    );
  };
  const putReject = (sql: Sql, id: string, line: number, massG: number) =>
    sql.query(
      `INSERT INTO drop_off_reject (drop_off_id, revision, line, contaminant, mass_g, went_to, entered)
       VALUES ($1, 1, $2, 'glass', $3, 'landfill', '{}')`,
      [id, line, massG],
    );

  it('keeps a lot whose rejects add up to what it says, in whatever order they come', async () => {
    const id = v7();
    await database.writeSql(async (sql) => {
      await putLot(sql, id, 300);
      await putReject(sql, id, 1, 100);
      await putReject(sql, id, 2, 200);
    });
    // Nothing is added to it afterwards.
    expect(await constraintOf(putReject(database.sql, id, 3, 1))).toBe('drop_off_rejects_add_up');
  });

  it.each([
    ['none are told', []],
    ['they are less', [299]],
    ['they are more', [100, 201]],
  ])('refuses a lot of 300 g of rejects of which %s, and keeps nothing of it', async (_, masses) => {
    const id = v7();
    const work = database.writeSql(async (sql) => {
      await putLot(sql, id, 300);
      for (const [index, massG] of masses.entries()) await putReject(sql, id, index + 1, massG);
    });
    expect(await constraintOf(work)).toBe('drop_off_rejects_add_up');
    expect(await database.sql.query('SELECT FROM drop_off WHERE id = $1', [id])).toEqual([]);
  });

  it('names nobody who is not there', async () => {
    const { sql } = database;
    const event = sql.query(
      `INSERT INTO audit_event (person_id, action, subject_kind, detail) VALUES ($1, 'a.thing', 'test', '{}')`,
      [v7()],
    );
    expect(await constraintOf(event)).toBe('audit_event_person_fk');
    const document = sql.query(
      `INSERT INTO sealed_document (seal, kind, subject_id, version, document, sealed_by)
       VALUES (encode(sha256('{}'), 'hex'), 'test', $1, 1, '{}', $1)`,
      [v7()],
    );
    expect(await constraintOf(document)).toBe('sealed_document_sealed_by_fk');
  });

  it('takes overs of a batch, and of a batch overs only', async () => {
    const [giver, taker] = [v7(), v7()];
    for (const [id, code] of [
      [giver, 'QS-1'],
      [taker, 'QS-2'],
    ]) {
      await database.sql.query(
        `INSERT INTO batch (id, site_id, code, method, occurred_at, body_sha256, recorded_by)
         VALUES ($1, $2, $3, 'turned-bins', now(), '\\x00', $4)`,
        [id, site, code, person],
      );
      await database.sql.query(
        `INSERT INTO batch_stage (batch_id, stage, entered_at, recorded_by) VALUES ($1, 'building', now(), $2)`,
        [id, person],
      );
    }
    const overs = database.sql.query(
      `INSERT INTO amendment (id, batch_id, material_code, source, basis, mass_g, entered, warnings,
         occurred_at, body_sha256, recorded_by)
       VALUES ($1, $2, 'overs', 'overs', 'scale', 1, '{}', '[]', now(), '\\x00', $3)`,
      [v7(), taker, person],
    );
    expect(await constraintOf(overs)).toBe('amendment_overs');
  });

  it('makes ids of version 7, in order of time', async () => {
    const made: string[] = [];
    for (let count = 0; count < 3; count += 1) {
      const [row] = await database.sql.query<{ id: string }>('SELECT id_v7() AS id');
      made.push(row!.id);
      await new Promise((resolve) => setTimeout(resolve, 3));
    }
    for (const id of made)
      expect(id).toMatch(/^[0-9a-f]{8}-[0-9a-f]{4}-7[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}$/);
    expect(made.toSorted()).toEqual(made);
    const ms = Number.parseInt(made[0]!.replace('-', '').slice(0, 12), 16);
    expect(Math.abs(Date.now() - ms)).toBeLessThan(60_000);
  });
});
