import type { Temporal } from 'temporal-polyfill';
import { at } from './calendar.js';
import { type Caller, newId } from './client.js';
import type { HubStory } from './places.js';
import type { Random } from './random.js';

export interface Hub extends HubStory {
  id: string;
  jurisdictionId: string;
  containers: string[];
  scaleId: string | null;
  volunteer: Caller;
}

const BUCKET_TARE_LB = 2.2;
const DIVISION_LB = 0.2;

/** What a scale of that division shows. */
const shown = (pounds: number) => Math.max(Math.round(pounds / DIVISION_LB), 1) / (1 / DIVISION_LB);
const lb = (value: number) => ({ value: Number(value.toFixed(1)), unit: 'lb' });

function materialOf(hub: Hub, day: Temporal.PlainDate, random: Random): string {
  // By volume only what has a published density can be taken in.
  if (!hub.hasScale)
    return day.month >= 10 && day.month <= 11 && random.chance(0.3) ? 'leaves' : 'food-scraps';
  const autumn = day.month === 10 || day.month === 11;
  const summer = day.month >= 5 && day.month <= 8;
  if (autumn && random.chance(0.35)) return 'leaves';
  if (summer && random.chance(0.12)) return 'grass-clippings';
  return random.chance(0.09) ? 'coffee-grounds' : 'food-scraps';
}

function rejectsOf(share: number, netLb: number, random: Random): object[] {
  if (!random.chance(share)) return [];
  const contaminant = random.pick(['film-plastic', 'rigid-plastic', 'glass', 'metal']);
  const pulledLb = Math.min(random.between(0.2, 0.8), netLb / 2);
  return [{ contaminant, mass: lb(shown(pulledLb)), wentTo: 'landfill' }];
}

function lotOf(hub: Hub, when: string, day: Temporal.PlainDate, rejectShare: number, random: Random): object {
  const material = materialOf(hub, day, random);
  const business = material === 'coffee-grounds' || random.chance(0.06);
  const netLb = shown(business ? random.between(14, 27) : Math.max(random.normal(6.3, 2.4), 0.8));
  const bulky = material === 'leaves';
  const amount = hub.hasScale
    ? {
        weight: { gross: lb(shown(netLb + BUCKET_TARE_LB)), containerId: random.pick(hub.containers) },
        instrumentId: hub.scaleId,
      }
    : {
        volume: bulky
          ? { value: random.pick([20, 30]), unit: 'gal' }
          : { value: random.pick([1, 2, 2.5, 5]), unit: 'gal' },
      };
  return {
    id: newId(),
    siteId: hub.id,
    occurredAt: when,
    material,
    jurisdictionId: hub.jurisdictionId,
    depositor: business ? 'business' : random.chance(0.05) ? 'school' : 'household',
    ...amount,
    ...(hub.hasScale ? { rejects: rejectsOf(rejectShare, netLb, random) } : {}),
  };
}

/** One opening of a hub: shift, lots as they come, now and then a load turned away, and the count at the end. */
export async function openHub(
  hub: Hub,
  day: Temporal.PlainDate,
  rejectShare: number,
  random: Random,
): Promise<number> {
  const shiftId = newId();
  const { volunteer, fromHour } = hub;
  const opened = { id: shiftId, siteId: hub.id, occurredAt: at(day, fromHour) };
  await volunteer.post('/shifts', { ...opened, ...(hub.scaleId ? { instrumentId: hub.scaleId } : {}) });
  const count = Math.max(Math.round(random.normal(hub.lots, hub.lots / 4)), 3);
  const minutes = Array.from({ length: count }, () => random.whole(1, 115)).sort((a, b) => a - b);
  const items = minutes.map((minute) => ({
    ...lotOf(hub, at(day, fromHour + Math.floor(minute / 60), minute % 60), day, rejectShare, random),
    shiftId,
  }));
  const answer = await volunteer.post<{ items: { status: number; problem?: unknown }[] }>('/drop-offs/bulk', {
    items,
  });
  const refused = answer.items.find((item) => item.status !== 201);
  if (refused) throw new Error(`a demo lot was refused: ${JSON.stringify(refused)}`);
  if (random.chance(0.12)) await turnAway(hub, day, shiftId);
  await volunteer.post(`/shifts/${shiftId}/close`, { occurredAt: at(day, fromHour + 2), countedLots: count });
  return count;
}

async function turnAway(hub: Hub, day: Temporal.PlainDate, shiftId: string): Promise<void> {
  await hub.volunteer.post('/refusals', {
    id: newId(),
    siteId: hub.id,
    shiftId,
    occurredAt: at(day, hub.fromHour + 1, 12),
    material: 'food-scraps',
    contaminant: 'film-plastic',
    mass: { value: 11, unit: 'lb' },
    reason: 'Bagged, and more bag than scraps',
  });
}
