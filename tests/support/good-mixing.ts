import { v7 } from 'uuid';
import { type GoodCall, of } from './good-calls.js';
import { type GoodWorld, kg, litres } from './good-world.js';

/** Good calls of what is kept to mix with. */
export function stockCalls({ yard, tokens, barrow, stockCount }: GoodWorld): GoodCall[] {
  const [operator, manager] = [of(tokens.operator), of(tokens.manager)];
  const counted = (amount: object) => ({
    ...{ id: v7(), siteId: yard.yard.id, material: 'wood-chips', amount },
    ...{ occurredAt: new Date(Date.now() - 3_600_000).toISOString(), costPerKg: 0.04, note: 'Grün gelagert' },
  });
  return [
    { ...operator.get('/stock-counts'), query: { siteId: yard.yard.id, material: 'wood-chips' } },
    operator.get('/sites/:id/stock', { id: yard.yard.id }),
    operator.post('/stock-counts', {}, counted({ mass: kg(90) })),
    operator.post('/stock-counts', {}, counted({ volume: litres(90) })),
    operator.post('/stock-counts', {}, counted({ containerId: barrow.id, count: 6.5 })),
    manager.post('/stock-counts/:id/void', { id: stockCount.id }, { reason: 'Counted twice' }),
  ];
}
