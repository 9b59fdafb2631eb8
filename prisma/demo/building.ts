import type { Temporal } from 'temporal-polyfill';
import { at } from './calendar.js';
import { newId } from './client.js';
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

/** How much chips and leaves go with what the hubs brought: too much never heats, too little smells. */
const brownsOf = ({ course }: Pile): number =>
  course === 'never-heats' ? 12 : course === 'ammonia' ? 0.2 : 1;

/** Everything the hubs have brought goes in, with chips and leaves over it. */
export async function feed(yard: Yard, pile: Pile, day: Temporal.PlainDate, random: Random): Promise<void> {
  await yard.manager.post(`/batches/${pile.id}/assignments`, {
    occurredAt: at(day, 19),
    allUnassigned: { siteIds: yard.hubIds, upTo: at(day, 18, 30) },
  });
  const browns = yard.hubs.length * 0.07 * brownsOf(pile);
  for (const [material, share] of [
    ['wood-chips', 1],
    ['leaves', 1.2],
  ] as const) {
    await yard.manager.post(`/batches/${pile.id}/amendments`, {
      id: newId(),
      material,
      volume: { value: Number((browns * share * random.between(0.8, 1.2)).toFixed(2)), unit: 'yd3' },
      from: 'stock',
      occurredAt: at(day, 19, 10),
    });
  }
}
