import pg from 'pg';

/** What a refused request may not touch: every table but the sessions, whose last use is noted. */
const TABLES = `
  SELECT quote_ident(table_name) AS name FROM information_schema.tables
  WHERE table_schema = 'public' AND table_type = 'BASE TABLE' AND table_name NOT IN ('session', '_prisma_migrations')
  ORDER BY 1`;

/** Every table's number of rows and a digest of what they hold, read beside the API. */
export class RowWatch {
  private constructor(
    private readonly client: pg.Client,
    private readonly text: string,
  ) {}

  static async over(url: string): Promise<RowWatch> {
    const client = new pg.Client({ connectionString: url });
    await client.connect();
    const { rows } = await client.query<{ name: string }>(TABLES);
    const parts = rows.map(
      ({ name }) =>
        `SELECT '${name}' AS name, count(*) || ' ' || coalesce(md5(string_agg(t::text, '|' ORDER BY t::text)), '')
           AS state FROM ${name} t`,
    );
    return new RowWatch(client, parts.join(' UNION ALL '));
  }

  async state(): Promise<Record<string, string>> {
    const { rows } = await this.client.query<{ name: string; state: string }>(this.text);
    return Object.fromEntries(rows.map(({ name, state }) => [name, state]));
  }

  stop(): Promise<void> {
    return this.client.end();
  }
}
