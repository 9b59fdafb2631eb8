import { Temporal } from 'temporal-polyfill';
import { daysFrom, ZONE } from './calendar.js';
import { Caller, type DemoApi } from './client.js';
import { openHub } from './hub-day.js';
import { amendCountyRule } from './county-rule.js';
import { AMENDED_DAYS_AGO } from './fates.js';
import { emailOf, PASSWORD, programme } from './places.js';
import { Random } from './random.js';
import { reportToTown } from './report.js';
import { setUp } from './setup.js';
import { countStock, isCountingDay } from './stock.js';
import { YardStoryTeller } from './yard.js';

export type { DemoApi } from './client.js';

const MONTHS = 14;
const SEED = 20_250_701;

export interface DemoSummary {
  days: number;
  dropOffs: number;
  signIns: { role: string; email: string; password: string }[];
}

/** Its name, as documents print it. */
export const demoProgramme = programme;

/** The account the demo loads with; an empty database makes it before anything else. */
export const demoCoordinator = { email: emailOf('coordinator'), name: 'Juniper Vale', password: PASSWORD };

/**
 * Lives fourteen months of an invented programme through the API, day by day, up to yesterday. Seeded: the same
 * day gives the same story.
 */
export async function loadDemo(
  api: DemoApi,
  nowMs: number,
  say: (line: string) => void,
): Promise<DemoSummary> {
  const coordinator = await new Caller(api).signIn(demoCoordinator.email, demoCoordinator.password);
  const today = Temporal.Instant.fromEpochMilliseconds(nowMs).toZonedDateTimeISO(ZONE).toPlainDate();
  const first = today.subtract({ months: MONTHS });
  const last = today.subtract({ days: 1 });
  const random = new Random(SEED);
  const world = await setUp(coordinator, first);
  const yards = world.yards.map(
    (yard, index) => new YardStoryTeller(yard, last, random.fork(), new Random(SEED + 2 + index)),
  );
  const hubRandoms = world.hubs.map(() => random.fork());
  // Of their own, so that counting what lies there changes nothing of the story.
  const heaps = new Random(SEED + 1);
  let dropOffs = 0;
  for (const day of daysFrom(first, last)) {
    if (day.day === 1) say(`  ${day.toPlainYearMonth().toString()}: ${dropOffs} drop-offs so far`);
    if (day.until(last).days === AMENDED_DAYS_AGO) await amendCountyRule(coordinator);
    for (const [index, hub] of world.hubs.entries()) {
      const yard = yards.find((_, yardIndex) => world.yards[yardIndex]?.hubs.includes(hub.code));
      if (!hub.opens.includes(day.dayOfWeek)) continue;
      dropOffs += await openHub(hub, day, yard?.rejectShare ?? 0, hubRandoms[index] ?? random);
    }
    if (isCountingDay(day)) for (const yard of world.yards) await countStock(yard, day, heaps);
    await Promise.all(yards.map((yard) => yard.live(day)));
  }
  const [townHub] = world.hubs;
  if (townHub) await reportToTown(coordinator, townHub, last);
  return { days: first.until(last).days + 1, dropOffs, signIns: signIns() };
}

function signIns(): DemoSummary['signIns'] {
  return [
    { role: 'coordinator', key: 'coordinator' },
    { role: 'site manager', key: 'manager' },
    { role: 'yard crew', key: 'crew' },
    { role: 'intake volunteer', key: 'volunteer' },
    { role: 'municipal reader', key: 'reader' },
  ].map(({ role, key }) => ({ role, email: emailOf(key), password: PASSWORD }));
}
