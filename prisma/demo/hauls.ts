import type { Temporal } from 'temporal-polyfill';
import { at } from './calendar.js';
import { newId } from './client.js';
import type { Random } from './random.js';
import type { Yard } from './story.js';

interface HaulAnswer {
  id: string;
  lotsKg: number;
  estimatedKg: number;
}

const kg = (value: number) => ({ value: Number(value.toFixed(1)), unit: 'kg' });

/** Fetches what waits at the hubs of a yard; ids of the hauls, none of a hub at which nothing waits. */
export async function fetchFromHubs(yard: Yard, day: Temporal.PlainDate, random: Random): Promise<string[]> {
  const hauls: string[] = [];
  for (const hubId of yard.hubIds) {
    if (!(await somethingWaits(yard, hubId, day))) continue;
    const haul = await yard.crew.post<HaulAnswer>('/hauls', {
      id: newId(),
      siteId: hubId,
      toSiteId: yard.id,
      occurredAt: at(day, 18, 40),
      lots: { allWaiting: { upTo: at(day, 18, 30) } },
    });
    await receive(yard, haul, day, random);
    hauls.push(haul.id);
  }
  return hauls;
}

async function somethingWaits(yard: Yard, hubId: string, day: Temporal.PlainDate): Promise<boolean> {
  const upTo = encodeURIComponent(at(day, 18, 30));
  const path = `/drop-offs?siteId=${hubId}&unassigned=true&to=${upTo}&limit=1`;
  return (await yard.crew.get<{ items: unknown[] }>(path)).items.length > 0;
}

/** What came from a hub without a scale is weighed at the yard; of the rest, now and then a cart to see whether it agrees. */
async function receive(
  yard: Yard,
  { id, lotsKg, estimatedKg }: HaulAnswer,
  day: Temporal.PlainDate,
  random: Random,
): Promise<void> {
  const came = { id: newId(), occurredAt: at(day, 18, 55) };
  const path = `/hauls/${id}/receipt`;
  if (estimatedKg > 0) {
    await yard.crew.post(path, { ...came, weight: { net: kg(lotsKg * random.between(0.86, 1.08)) } });
    return;
  }
  if (!random.chance(0.25)) {
    await yard.crew.post(path, came);
    return;
  }
  const spilled = random.chance(0.3);
  await yard.crew.post(path, {
    ...came,
    weight: { net: kg(lotsKg * (spilled ? 0.955 : random.between(0.994, 1.004))) },
    ...(spilled ? { explanation: 'A lid came off in the rain, and a bucket went over at the gate.' } : {}),
  });
}
