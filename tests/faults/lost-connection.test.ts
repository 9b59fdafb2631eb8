import { setTimeout as pause } from 'node:timers/promises';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { Database, type Sql } from '#libs/database';
import { freshDatabase, type TestDatabase } from '../support/database.js';

describe('a connection that the server ends between two statements of a transaction', () => {
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

  async function loseConnection(sql: Sql): Promise<void> {
    const [row] = await sql.query<{ pid: number }>('SELECT pg_backend_pid() AS pid');
    await database.sql.query('SELECT pg_terminate_backend($1)', [row?.pid]);
    await pause(200);
    await sql.query('SELECT 1');
  }

  it('fails that transaction, and neither the process nor the next one', async () => {
    await expect(database.writeSql(loseConnection)).rejects.toThrow();
    await expect(database.write(({ sql }) => loseConnection(sql))).rejects.toThrow();
    expect(await database.sql.query('SELECT 1 AS one')).toEqual([{ one: 1 }]);
  });
});
