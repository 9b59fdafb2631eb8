import { v7 } from 'uuid';
import { type GoodCall, of } from './good-calls.js';
import { type GoodWorld, kg, litres } from './good-world.js';

/** Good calls of the mix, of what is kept to mix with, and of what is usually mixed. */
export const mixingCalls = (world: GoodWorld): GoodCall[] => [
  ...mixCalls(world),
  ...stockCalls(world),
  ...recipeCalls(world),
];

function mixCalls({ tokens, building: { id } }: GoodWorld): GoodCall[] {
  const operator = of(tokens.operator);
  const narrow = { leastBy: 'cost', grade: 'preferred' };
  return [
    operator.get('/batches/:id/mix', { id }),
    { ...operator.get('/batches/:id/additions', { id }), query: narrow },
  ];
}

function stockCalls({ yard, tokens, barrow, stockCount }: GoodWorld): GoodCall[] {
  const [operator, manager] = [of(tokens.operator), of(tokens.manager)];
  const counted = (amount: object) => ({
    ...{ id: v7(), siteId: yard.yard.id, material: 'wood-chips', amount },
    ...{ occurredAt: new Date(Date.now() - 3_600_000).toISOString(), costPerKg: 0.04, note: 'Grün gelagert' },
  });
  return [
    { ...operator.get('/stock-counts'), query: { siteId: yard.yard.id, material: 'wood-chips' } },
    operator.get('/sites/:id/stock', { id: yard.yard.id }),
    operator.get('/sites/:id/wanted', { id: yard.yard.id }),
    operator.post('/stock-counts', {}, counted({ mass: kg(90) })),
    operator.post('/stock-counts', {}, counted({ volume: litres(90) })),
    operator.post('/stock-counts', {}, counted({ containerId: barrow.id, count: 6.5 })),
    manager.post('/stock-counts/:id/void', { id: stockCount.id }, { reason: 'Counted twice' }),
  ];
}

function recipeCalls({ programme, yard, tokens, recipe, building }: GoodWorld): GoodCall[] {
  const [operator, manager] = [of(tokens.operator), of(tokens.manager)];
  const part = (material: string, parts: number, fromDropOffs: boolean) => ({
    material,
    parts,
    fromDropOffs,
  });
  const usual = {
    ...{ name: 'Übliche Mischung', basis: 'volume', note: 'Chips zuerst' },
    parts: [part('food-scraps', 2, true), part('wood-chips', 3, false)],
  };
  const { id } = recipe;
  return [
    { ...operator.get('/recipes'), query: { siteId: yard.yard.id } },
    operator.get('/recipes/:id', { id }),
    manager.post('/recipes', {}, { id: v7(), siteId: yard.yard.id, ...usual }),
    manager.patch('/recipes/:id', { id }, { ...usual, name: 'Wintermischung', retired: false }),
    { ...operator.get('/recipes/:id/scaled', { id }), query: { hubs: programme.hub1.id, day: '2026-03-02' } },
    { ...operator.get('/batches/:id/recipe', { id: building.id }), query: { recipe: id } },
  ];
}
