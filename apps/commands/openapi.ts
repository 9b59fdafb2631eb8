import { readFile, writeFile } from 'node:fs/promises';
import { ConsoleLogger } from '@nestjs/common';
import { NestFactory } from '@nestjs/core';
import { FastifyAdapter, type NestFastifyApplication } from '@nestjs/platform-fastify';
import { AppModule } from '../api/app.module.js';
import { openApiOf } from '../api/http/openapi.js';
import { settingsOf } from '../api/http/settings.js';

/** `npm run openapi` writes openapi.json; with `--check` it only tells whether the file still says the same. */
const file = new URL('../../../openapi.json', import.meta.url);

/** What the framework only warns of, two shapes under one name for example, makes the contract a false one. */
class Strict extends ConsoleLogger {
  override warn(message: unknown): void {
    throw new Error(String(message));
  }
}

/** From the controllers as compiled. Nothing is started, so that no database is needed. */
async function contract(): Promise<string> {
  const settings = settingsOf({ DATABASE_URL: 'postgresql://nowhere.invalid/none' });
  const app = await NestFactory.create<NestFastifyApplication>(
    AppModule.with(settings),
    new FastifyAdapter(),
    { logger: new Strict({ logLevels: ['error', 'warn'] }) },
  );
  app.setGlobalPrefix('api');
  const document = openApiOf(app);
  await app.close();
  return `${JSON.stringify(document, undefined, 2)}\n`;
}

function firstDifference(committed: string, made: string): string {
  const [before, after] = [committed.split('\n'), made.split('\n')];
  const line = after.findIndex((text, index) => text !== before[index]);
  const at = line === -1 ? after.length : line;
  return `line ${at + 1}: committed ${before[at]?.trim() ?? '(end)'}, made ${after[at]?.trim() ?? '(end)'}`;
}

const made = await contract();
if (process.argv.includes('--check')) {
  const committed = await readFile(file, 'utf8').catch(() => '');
  if (committed === made) console.log('openapi.json and the controllers agree');
  else {
    console.error(
      `openapi.json is out of date; run \`npm run openapi\`.\n${firstDifference(committed, made)}`,
    );
    process.exitCode = 1;
  }
} else {
  await writeFile(file, made);
  console.log('openapi.json written');
}
