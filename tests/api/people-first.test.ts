import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { NestFastifyApplication } from '@nestjs/platform-fastify';
import { createApp } from '../../apps/api/app.js';
import { settingsOf } from '../../apps/api/http/settings.js';
import { auditOf } from '../support/audit.js';
import { freshDatabase, type TestDatabase } from '../support/database.js';

describe('the first coordinator', () => {
  let database: TestDatabase;
  const apps: NestFastifyApplication[] = [];
  const start = async (email: string) => {
    const environment = { DATABASE_URL: database.url, HEAPWRIGHT_POOL: '3' };
    const first = { HEAPWRIGHT_FIRST_EMAIL: email, HEAPWRIGHT_FIRST_PASSWORD: 'a long first password' };
    apps.push(await createApp(settingsOf({ ...environment, ...first }), ['error']));
  };
  beforeAll(async () => {
    database = await freshDatabase();
  });
  afterAll(async () => {
    for (const app of apps) await app.close();
    await database.drop();
  });

  it('is one, however many processes start on an empty database at once', async () => {
    await Promise.all(
      ['wren@larkhollow.example', 'wren@larkhollow.example', 'alder@larkhollow.example'].map(start),
    );
    expect(apps).toHaveLength(3);
    expect(await auditOf({ app: apps[0]! }, 'person.added')).toHaveLength(1);
  });

  it('is not added where somebody is there', async () => {
    await start('late@larkhollow.example');
    expect(await auditOf({ app: apps[0]! }, 'person.added')).toHaveLength(1);
  });
});
