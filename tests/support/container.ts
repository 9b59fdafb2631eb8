import { PostgreSqlContainer } from '@testcontainers/postgresql';

/** Where a registry is reached the official image; elsewhere HEAPWRIGHT_POSTGRES_IMAGE names one made locally. */
const IMAGE = process.env['HEAPWRIGHT_POSTGRES_IMAGE'] ?? 'postgres:18';

export async function startContainer() {
  const container = await new PostgreSqlContainer(IMAGE).withDatabase('postgres').start();
  const adminUrl = container.getConnectionUri();
  return {
    adminUrl,
    urlOf(database: string) {
      const url = new URL(adminUrl);
      url.pathname = `/${database}`;
      return url.href;
    },
    async stop() {
      await container.stop();
    },
  };
}
