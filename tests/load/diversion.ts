import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import pg from 'pg';
import { DiversionRecords } from '../../apps/api/reporting/diversion.records.js';
import { DiversionService } from '../../apps/api/reporting/diversion.service.js';
import type { DiversionFigures } from '#libs/accounting';
import { applyMigrations, createDatabase, Database, startEmbedded } from '#libs/database';
import { BY_HAND, PERIOD_BY_HAND } from './diversion-by-hand.js';
import { addLots, buildWorld, JURISDICTION_ID, SITES, YEAR } from './diversion-world.js';
import { type Figure, milliseconds, sideBySide } from './measure.js';

const LOTS = [500_000, 1_000_000, 2_000_000];
const ROUNDS = 5;
const root = fileURLToPath(new URL('../../../prisma', import.meta.url));

/** A year of one jurisdiction out of many drop-offs, against one statement that was written for it by hand; twice doubled. */
export async function diversionFigures(sizes: readonly number[] = LOTS): Promise<Figure[]> {
  const folder = await mkdtemp(join(tmpdir(), 'heapwright-bench-'));
  const server = await startEmbedded({ folder, throwAway: true });
  try {
    await createDatabase(server.adminUrl, 'diversion');
    const url = server.urlOf('diversion');
    await applyMigrations(url, { root });
    const client = new pg.Client({ connectionString: url });
    const database = new Database({ url, max: 2 });
    await client.connect();
    try {
      await buildWorld(client);
      const figures: Figure[] = [];
      let loaded = 0;
      for (const size of sizes) {
        await addLots(client, loaded, size);
        loaded = size;
        figures.push(...(await measured(database, client, size)));
      }
      return figures;
    } finally {
      await database.close();
      await client.end();
    }
  } finally {
    await server.stop();
    await rm(folder, { recursive: true, force: true });
  }
}

const period = { ...YEAR, jurisdictionId: JURISDICTION_ID, siteIds: null, residueTo: 'traced' as const };

async function measured(database: Database, client: pg.Client, size: number): Promise<Figure[]> {
  const records = new DiversionRecords(database);
  const service = new DiversionService(records);
  const asked = [JURISDICTION_ID, YEAR.from, YEAR.to];
  const told = () => database.readSnapshot((sql) => service.figures(sql, period));
  const byHand = () => client.query<{ all: ByHand }>(BY_HAND, asked);
  const moved = () => database.readSnapshot((sql) => records.movements(sql, period));
  const movedByHand = () => client.query(PERIOD_BY_HAND, asked);
  agree(await told(), (await byHand()).rows[0]!.all);
  for (const warm of [moved, movedByHand]) await warm();
  const [toldMs, byHandMs] = await inTurn(told, byHand);
  const [movedMs, movedByHandMs] = await inTurn(moved, movedByHand);
  const what = `a year's diversion, ${size / 1e6} million lots, ${SITES} sites`;
  const baseline = 'one statement by hand';
  return [
    { what, value: toldMs, unit: 'ms', baseline, ratio: toldMs / byHandMs },
    {
      what: '  of it, what came in alone',
      value: movedMs,
      unit: 'ms',
      baseline,
      ratio: movedMs / movedByHandMs,
    },
  ];
}

const inTurn = (first: () => Promise<unknown>, second: () => Promise<unknown>): Promise<[number, number]> =>
  sideBySide(
    ROUNDS,
    () => milliseconds(first),
    () => milliseconds(second),
  );

interface ByHand {
  lots: number;
  acceptedG: number;
  byDepositor: { visits: number }[];
  waitingG: number;
  curingG: number;
}

/** Both must have summed the same, or the time of one says nothing of the other. */
function agree({ total, visits, stockAtEnd }: DiversionFigures, byHand: ByHand): void {
  const pairs = [
    [total.lots, byHand.lots],
    [total.acceptedKg, byHand.acceptedG / 1000],
    [visits, byHand.byDepositor.reduce((sum, one) => sum + one.visits, 0)],
    [stockAtEnd.waitingKg, byHand.waitingG / 1000],
    [stockAtEnd.curingKg, byHand.curingG / 1000],
  ];
  if (total.lots === 0 || total.landfilledKg === 0 || pairs.some(([ours, theirs]) => ours !== theirs))
    throw new Error(`not the same sums: ${JSON.stringify({ total, visits, stockAtEnd, byHand })}`);
}
