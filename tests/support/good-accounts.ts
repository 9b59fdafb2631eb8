import { v7 } from 'uuid';
import { type GoodCall, of } from './good-calls.js';
import type { GoodWorld } from './good-world.js';

/** Good calls of what a yard has to show to its neighbours and its authority. */
export function accountCalls({ yard, tokens, complaint }: GoodWorld): GoodCall[] {
  const [operator, manager] = [of(tokens.operator), of(tokens.manager)];
  const { id } = complaint;
  const hourAgo = new Date(Date.now() - 3_600_000).toISOString();
  const told = { siteId: yard.yard.id, kind: 'odour', about: 'Faule Eier, früh am Morgen' };
  return [
    { ...operator.get('/complaints'), query: { siteId: yard.yard.id, from: '2026-01-01T00:00:00Z' } },
    operator.get('/complaints/:id', { id }),
    operator.post('/complaints', {}, { id: v7(), occurredAt: hourAgo, ...told }),
    operator.post('/complaints/:id/actions', { id }, { id: v7(), occurredAt: hourAgo, done: 'Umgesetzt' }),
    { ...manager.get('/sites/:id/facility-year', { id: yard.yard.id }), query: { yearOf: '2026-03-05' } },
    operator.get('/sites/:id/headroom', { id: yard.yard.id }),
    manager.get('/greenhouse-sets'),
    manager.post('/complaints/:id/void', { id }, { reason: 'Entered twice' }),
  ];
}
