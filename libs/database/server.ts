import pg from 'pg';

async function onServer<T>(adminUrl: string, work: (client: pg.Client) => Promise<T>): Promise<T> {
  const client = new pg.Client({ connectionString: adminUrl });
  await client.connect();
  try {
    return await work(client);
  } finally {
    await client.end();
  }
}

export async function databaseExists(adminUrl: string, name: string): Promise<boolean> {
  return onServer(adminUrl, async (client) => {
    const { rowCount } = await client.query('SELECT 1 FROM pg_database WHERE datname = $1', [name]);
    return rowCount === 1;
  });
}

/** Makes a database, as a copy of `template` where one is named (it must have no connections). */
export async function createDatabase(adminUrl: string, name: string, template = 'template0'): Promise<void> {
  await onServer(adminUrl, (client) =>
    client.query(
      `CREATE DATABASE ${client.escapeIdentifier(name)} TEMPLATE ${client.escapeIdentifier(template)}`,
    ),
  );
}

export async function dropDatabase(adminUrl: string, name: string): Promise<void> {
  await onServer(adminUrl, (client) =>
    client.query(`DROP DATABASE IF EXISTS ${client.escapeIdentifier(name)} WITH (FORCE)`),
  );
}

/** Puts `draft` in the place of `name`, which may exist and is then dropped. Neither may have connections. */
export async function replaceDatabase(adminUrl: string, draft: string, name: string): Promise<void> {
  await dropDatabase(adminUrl, name);
  await onServer(adminUrl, (client) =>
    client.query(
      `ALTER DATABASE ${client.escapeIdentifier(draft)} RENAME TO ${client.escapeIdentifier(name)}`,
    ),
  );
}
