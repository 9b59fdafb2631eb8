import { fileURLToPath } from 'node:url';
import {
  applyMigrations,
  createMigration,
  driftSql,
  startEmbedded,
  createDatabase,
  databaseExists,
} from '#libs/database';

/**
 * `npm run database -- migrate | drift | new NAME`: on DATABASE_URL, or on a throw-away cluster where none is set.
 */
const root = fileURLToPath(new URL('../../../prisma', import.meta.url));
const [command, name] = process.argv.slice(2);

async function onSomeDatabase<T>(work: (url: string) => Promise<T>): Promise<T> {
  const given = process.env['DATABASE_URL'];
  if (given) return work(given);
  const folder = fileURLToPath(new URL('../../../.data/scratch', import.meta.url));
  const server = await startEmbedded({ folder, throwAway: true });
  try {
    if (!(await databaseExists(server.adminUrl, 'scratch'))) await createDatabase(server.adminUrl, 'scratch');
    return await work(server.urlOf('scratch'));
  } finally {
    await server.stop();
  }
}

async function run(): Promise<void> {
  if (command === 'migrate') {
    const applied = await onSomeDatabase((url) => applyMigrations(url, { root }));
    console.log(applied.length > 0 ? `applied ${applied.join(', ')}` : 'nothing to apply');
  } else if (command === 'drift') {
    const sql = await onSomeDatabase((url) => driftSql(url, { root }));
    if (sql) {
      console.error(`The schema and the migrations differ:\n${sql}`);
      process.exitCode = 1;
    } else console.log('schema and migrations agree');
  } else if (command === 'new' && name) {
    const stamp = new Date().toISOString().replaceAll(/\D/g, '').slice(0, 14);
    console.log(await onSomeDatabase((url) => createMigration(url, { root }, name, stamp)));
  } else {
    console.error('usage: npm run database -- migrate | drift | new NAME');
    process.exitCode = 2;
  }
}

await run();
