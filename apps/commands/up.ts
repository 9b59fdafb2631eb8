import { createHash } from 'node:crypto';
import { join, resolve } from 'node:path';
import { cleanEnv, str } from 'envalid';
import { createApp } from '../api/app.js';
import { type Settings, settingsOf } from '../api/http/settings.js';
import { fillWithDemo, type Welcome, welcomeOf } from './up/demo.js';
import { freePortFrom } from './up/port.js';
import { isEmpty } from './up/programme.records.js';
import { Shutdown } from './up/shutdown.js';
import { openEmbedded, openOwn } from './up/store.js';

/** `npm run up`, once installed and built: database, API and pages until told to stop. */
const say = (line: string): void => console.log(line);
const shutdown = new Shutdown(say);

async function up(): Promise<void> {
  const env = cleanEnv(process.env, {
    DATABASE_URL: str({ default: '' }),
    HEAPWRIGHT_DATA: str({ default: '.data' }),
    HEAPWRIGHT_DEMO: str({ choices: ['on', 'off', ''], default: '' }),
  });
  const own = env.DATABASE_URL;
  // A demo cannot be taken out again, and its passwords are known: into a database of the owner's only when asked for.
  const demo = env.HEAPWRIGHT_DEMO || (own ? 'off' : 'on');
  const wanted = settingsOf({ ...process.env, DATABASE_URL: own || 'embedded' });
  const data = resolve(env.HEAPWRIGHT_DATA || '.data');
  // What a demo left to be told belongs to the database that it was loaded into.
  const folder = own ? join(data, createHash('sha256').update(own).digest('hex').slice(0, 12)) : data;
  const fill =
    demo === 'on'
      ? (databaseUrl: string) => fillWithDemo({ ...wanted, databaseUrl }, folder, shutdown, say)
      : undefined;
  const databaseUrl = own ? await openOwn(own, fill, say) : await openEmbedded(folder, fill, shutdown, say);
  await serve({ ...wanted, databaseUrl }, folder);
}

async function serve(settings: Settings, folder: string): Promise<void> {
  const { host } = settings;
  const port = await freePortFrom(settings.port, host);
  if (port !== settings.port) say(`  port ${settings.port} is taken: using ${port}`);
  const welcome = await welcomeOf(folder);
  const app = await createApp(named(settings, welcome), ['error', 'warn']);
  shutdown.add(() => app.close());
  await app.listen(port, host);
  const address = `http://${host === '0.0.0.0' || host === '::' ? 'localhost' : host}:${port}`;
  await greet(address, welcome, settings.databaseUrl);
}

/** The demo goes by its own name, unless the environment gives another. */
function named(settings: Settings, welcome: Welcome | undefined): Settings {
  return welcome && !process.env['HEAPWRIGHT_PROGRAMME']
    ? { ...settings, programme: welcome.programme }
    : settings;
}

async function greet(address: string, welcome: Welcome | undefined, databaseUrl: string): Promise<void> {
  const nobody = !welcome && (await isEmpty(databaseUrl));
  say(`\nHeapwright is running at ${address}`);
  say(`  the API's own documents: ${address}/api/docs`);
  if (welcome) {
    say(`\nSign-ins of the demo programme, ${welcome.programme}:`);
    for (const { role, email, password } of welcome.signIns) {
      say(`  ${role.padEnd(18)} ${email.padEnd(36)} ${password}`);
    }
    say('\nTwo documents that were made through the API:');
    for (const path of welcome.documents) say(`  ${path}`);
  } else if (nobody) {
    say('\nNobody can sign in yet. Start it with HEAPWRIGHT_FIRST_EMAIL and HEAPWRIGHT_FIRST_PASSWORD set.');
  }
  say('\nCtrl-C stops it; every record is kept.');
}

shutdown.takeSignals();
// Whoever read what is said here may be gone; that must not cut the stopping short.
process.stdout.on('error', () => undefined);
// The program that started this one is gone, and nobody is left to stop it.
process.once('disconnect', () => void shutdown.run(0, 'Stopping: the process that started this one ended.'));
try {
  await up();
} catch (error) {
  // What is under way fails when its database stops beneath it; a stop that is being told is no news.
  await new Promise((resolve) => setTimeout(resolve, 500));
  if (!shutdown.isUnderWay) await shutdown.run(1, error instanceof Error ? error.message : String(error));
}
