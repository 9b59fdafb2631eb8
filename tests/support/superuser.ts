import pg from 'pg';

/** What only somebody with the whole server can do: change kept rows, the triggers that keep them switched off. */
export async function asSuperuser<T>(url: string, work: (client: pg.Client) => Promise<T>): Promise<T> {
  const client = new pg.Client({ connectionString: url });
  await client.connect();
  try {
    await client.query('SET session_replication_role = replica');
    return await work(client);
  } finally {
    await client.end();
  }
}
