import type { Temporal } from 'temporal-polyfill';
import { at } from './calendar.js';
import { newId } from './client.js';
import { fetchFromHubs } from './hauls.js';
import type { Fate } from './fates.js';
import type { Random } from './random.js';
import type { Pile, Yard } from './story.js';

/** A batch begun in a bay. */
export async function beginPile(yard: Yard, bay: string, day: Temporal.PlainDate, fate: Fate): Promise<Pile> {
  const { id, code } = await yard.manager.post<{ id: string; code: string }>('/batches', {
    id: newId(),
    siteId: yard.id,
    bay,
    method: yard.method,
    occurredAt: at(day, 7, 30),
  });
  return { id, code, bay, ...fate, stage: 'building', since: day };
}

/** What goes over a load from one hub, in barrows: too many browns never heat, and a park's last mowing in their place smells. */
function coverOf({ course }: Pile): (readonly [material: string, barrows: number])[] {
  if (course === 'ammonia') return [['grass-clippings', 8.4]];
  const browns = course === 'never-heats' ? 7 : 0.6;
  return [
    ['wood-chips', browns],
    ['leaves', browns * 1.2],
  ];
}

/** Everything the hubs have brought is fetched and goes in, with overs of the batch before, and its cover over it. */
export async function feed(
  yard: Yard,
  pile: Pile,
  day: Temporal.PlainDate,
  random: { cover: Random; hauls: Random },
): Promise<void> {
  const haulIds = await fetchFromHubs(yard, day, random.hauls);
  if (haulIds.length > 0) {
    await yard.manager.post(`/batches/${pile.id}/assignments`, {
      occurredAt: at(day, 19),
      allUnassigned: { haulIds },
    });
  }
  for (const { batchId, massKg } of yard.overs.splice(0)) {
    await yard.manager.post(`/batches/${pile.id}/amendments`, {
      id: newId(),
      mass: { value: massKg, unit: 'kg' },
      from: 'overs',
      batchId,
      occurredAt: at(day, 19, 5),
    });
  }
  for (const [material, barrows] of coverOf(pile)) {
    const halves = Math.round(barrows * yard.hubs.length * random.cover.between(0.8, 1.2) * 2);
    await yard.manager.post(`/batches/${pile.id}/amendments`, {
      id: newId(),
      material,
      containers: { containerId: yard.barrowId, count: Math.max(1, halves) / 2 },
      from: 'stock',
      occurredAt: at(day, 19, 10),
    });
  }
}
