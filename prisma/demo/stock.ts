import type { Temporal } from 'temporal-polyfill';
import { at } from './calendar.js';
import { newId } from './client.js';
import type { Random } from './random.js';
import type { Yard } from './story.js';

/** What a yard is likely to find, in barrows. */
const heaps = [
  { material: 'wood-chips', least: 14, most: 26, costPerKg: 0.02 },
  { material: 'leaves', least: 10, most: 40 },
  { material: 'straw-wheat', least: 1, most: 4, costPerKg: 0.35 },
] as const;

const AUTUMN = new Set([10, 11, 12]);

/** The barrow that everything is measured out in, by its volume to the brim, found with buckets of water. */
export async function addBarrow({ manager, id }: Pick<Yard, 'manager' | 'id'>): Promise<string> {
  const barrow = await manager.post('/containers', {
    siteId: id,
    code: 'barrow',
    tare: { value: 31, unit: 'lb' },
    volume: { value: 24, unit: 'gal' },
  });
  return barrow.id;
}

/** The first Monday of a month, after a Sunday on which a load went in. */
export const isCountingDay = (day: Temporal.PlainDate): boolean => day.dayOfWeek === 1 && day.day <= 7;

/** The crew goes round the heaps with the barrow in mind. There are most leaves after autumn. */
export async function countStock(yard: Yard, day: Temporal.PlainDate, random: Random): Promise<void> {
  for (const { material, least, most, ...cost } of heaps) {
    const high = material === 'leaves' && !AUTUMN.has(day.month) ? least + 6 : most;
    await yard.crew.post('/stock-counts', {
      id: newId(),
      siteId: yard.id,
      material,
      amount: { containerId: yard.barrowId, count: random.whole(least * 2, high * 2) / 2 },
      occurredAt: at(day, 7, 40),
      ...cost,
    });
  }
}

/** What the crew has found to work, in barrows. */
export async function addRecipe({ manager, id }: Pick<Yard, 'manager' | 'id'>): Promise<void> {
  await manager.post('/recipes', {
    siteId: id,
    name: 'Usual mix',
    basis: 'volume',
    parts: [
      { material: 'food-scraps', parts: 2, fromDropOffs: true },
      { material: 'wood-chips', parts: 1, fromDropOffs: false },
      { material: 'leaves', parts: 1, fromDropOffs: false },
    ],
    note: 'Chips at the bottom, leaves between the layers, and a cover of leaves at the end of the day',
  });
}

/** Chips of the town's own trees, looked at by a laboratory; how heavy they lie was found with a bucket. */
export async function measureChips(
  { manager, id }: Pick<Yard, 'manager' | 'id'>,
  day: Temporal.PlainDate,
): Promise<void> {
  await manager.post('/material-measurements', {
    id: newId(),
    siteId: id,
    material: 'wood-chips',
    occurredAt: at(day, 10, 15),
    by: 'Saltbush Soil Laboratory',
    reference: 'SSL-2291',
    nitrogenPercentDry: 0.32,
    ashPercentDry: 2.1,
    moisture: { percent: 34.5 },
    bulkDensity: {
      full: { value: 14.9, unit: 'lb' },
      empty: { value: 2.2, unit: 'lb' },
      volume: { value: 5, unit: 'gal' },
    },
  });
}
