import { v7 } from 'uuid';
import type { TestApi } from './api.js';
import { type GoodCall, of } from './good-calls.js';
import type { GoodWorld } from './good-world.js';
import { made } from './programme.js';

/** A yard that shows the records of its batches to anybody who has their seals. */
export async function showRecords(api: TestApi, siteId: string): Promise<void> {
  const headers = { 'if-match': '"1"' };
  const body = { publicRecords: true };
  const answer = await api.call('PATCH', `/sites/${siteId}`, { as: api.coordinator, headers, body });
  if (answer.status !== 200) throw new Error(`the site answered ${answer.status}: ${answer.text}`);
}

/** A batch that is on hold. */
export async function makeHeld(api: TestApi, begin: () => Promise<{ id: string }>, manager: string) {
  const { id } = await begin();
  const hold = await made<{ id: string }>(
    api,
    `/batches/${id}/holds`,
    { reason: 'Hay with herbicide' },
    manager,
  );
  return { id, holdId: hold.id };
}

/** Calls about where things went, and about what stops them. */
export function traceCalls({
  tokens,
  lots,
  building,
  released,
  distribution,
  held,
  seal,
}: GoodWorld): GoodCall[] {
  const [operator, manager] = [of(tokens.operator), of(tokens.manager)];
  const { id } = building;
  const dropOff = { id: lots.toAssign.id };
  const reason = 'Verdacht auf Herbizid im Heu';
  return [
    ...['trace', 'recall.csv', 'recall.pdf'].map((what) => operator.get(`/drop-offs/:id/${what}`, dropOff)),
    ...['trace', 'recall.csv', 'recall.pdf'].map((what) => operator.get(`/batches/:id/${what}`, released)),
    operator.get('/distributions/:id/trace', { id: distribution.id }),
    operator.get('/batches/:id/holds', { id: held.id }),
    manager.post('/batches/:id/holds', { id }, { id: v7(), occurredAt: new Date().toISOString(), reason }),
    manager.post('/batches/:id/holds/:holdId/lift', { id: held.id, holdId: held.holdId }, { reason }),
    { route: 'GET /public/batch-records/:seal', params: { seal } },
  ];
}
