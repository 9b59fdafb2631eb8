import { randomUUID } from 'node:crypto';
import { inject } from 'vitest';
import { createDatabase, dropDatabase } from '#libs/database';

export interface TestDatabase {
  url: string;
  drop(): Promise<void>;
}

/** A copy of the migrated template, for one test file. */
export async function freshDatabase(): Promise<TestDatabase> {
  const adminUrl = inject('adminUrl');
  const name = `t_${randomUUID().replaceAll('-', '')}`;
  await createDatabase(adminUrl, name, inject('template'));
  const url = new URL(adminUrl);
  url.pathname = `/${name}`;
  return { url: url.href, drop: () => dropDatabase(adminUrl, name) };
}
