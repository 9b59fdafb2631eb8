import { v7 } from 'uuid';
import pg from 'pg';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { Database, refusalOf } from '#libs/database';
import { freshDatabase, type TestDatabase } from '../../support/database.js';

const town = (name: string) => ({ id: v7(), name, reportingYearStart: '07-01' });

describe('one transaction for Prisma and SQL', () => {
  let home: TestDatabase;
  let database: Database;
  beforeAll(async () => {
    home = await freshDatabase();
    database = new Database({ url: home.url, max: 3 });
  });
  afterAll(async () => {
    await database.close();
    await home.drop();
  });

  const count = async (name: string) =>
    (await database.sql.query('SELECT 1 FROM jurisdiction WHERE name = $1', [name])).length;

  it('sees through SQL what Prisma has just written, before anything is committed', async () => {
    await database.write(async ({ prisma, sql }) => {
      await prisma.jurisdiction.create({ data: town('Half-way') });
      expect(await sql.query('SELECT 1 FROM jurisdiction WHERE name = $1', ['Half-way'])).toHaveLength(1);
      expect(await count('Half-way')).toBe(0);
    });
    expect(await count('Half-way')).toBe(1);
  });

  it('keeps nothing of either when the work throws', async () => {
    const work = database.write(async ({ prisma, sql }) => {
      await prisma.jurisdiction.create({ data: town('By Prisma') });
      await sql.query(
        `INSERT INTO jurisdiction (id, name, reporting_year_start) VALUES ($1, 'By SQL', '01-01')`,
        [v7()],
      );
      throw new Error('changed my mind');
    });
    await expect(work).rejects.toThrow('changed my mind');
    expect(await count('By Prisma')).toBe(0);
    expect(await count('By SQL')).toBe(0);
  });

  it('keeps transactions apart when more run than there are connections', async () => {
    const names = Array.from({ length: 12 }, (_, index) => `Town ${index}`);
    await Promise.all(
      names.map((name) =>
        database.write(async ({ prisma, sql }) => {
          await prisma.jurisdiction.create({ data: town(name) });
          const seen = await sql.query<{ name: string }>(
            `SELECT name FROM jurisdiction WHERE xmin::text = pg_current_xact_id()::text`,
          );
          expect(seen.map((row) => row.name)).toEqual([name]);
        }),
      ),
    );
  });

  it('names the constraint that refused, through Prisma and through SQL', async () => {
    const byPrisma = await database.prisma.jurisdiction
      .create({ data: { ...town('Bad'), reportingYearStart: '13-01' } })
      .catch(refusalOf);
    expect(byPrisma).toMatchObject({ kind: 'check', constraint: 'jurisdiction_year_start' });
    await database.prisma.jurisdiction.create({ data: town('Twice') });
    const again = await database.prisma.jurisdiction.create({ data: town('Twice') }).catch(refusalOf);
    expect(again).toMatchObject({ kind: 'unique', constraint: 'jurisdiction_name_unique' });
    const bySql = await database.sql
      .query(`INSERT INTO jurisdiction (id, name, reporting_year_start) VALUES ($1, 'Twice', '01-01')`, [
        v7(),
      ])
      .catch(refusalOf);
    expect(bySql).toMatchObject({ kind: 'unique', constraint: 'jurisdiction_name_unique' });
  });

  it('stores the instant it was given, whatever zone the server is set to', async () => {
    const admin = new pg.Client({ connectionString: home.url });
    await admin.connect();
    const [{ current }] = (await admin.query('SELECT current_database() AS current')).rows as [
      { current: string },
    ];
    await admin.query(`ALTER DATABASE "${current}" SET timezone TO 'America/New_York'`);
    await admin.end();
    const far = new Database({ url: home.url, max: 1 });
    const createdAt = new Date('2026-05-02T12:00:00Z');
    const person = {
      id: v7(),
      email: 'noon@larkhollow.example',
      displayName: 'Noon',
      passwordHash: 'x',
      createdAt,
    };
    await far.prisma.person.create({ data: person });
    const [row] = await far.sql.query<{ utc: string }>(
      `SELECT to_char(created_at AT TIME ZONE 'UTC', 'HH24:MI') AS utc FROM person WHERE id = $1`,
      [person.id],
    );
    expect(row?.utc).toBe('12:00');
    await far.close();
  });
});
