import { v7 } from 'uuid';
import type { TestApi } from './api.js';
import { type GoodCall, of } from './good-calls.js';
import type { GoodWorld } from './good-world.js';
import { made, type Programme } from './programme.js';
import { lotAtHub1, type Yard } from './yard-work.js';

interface Thing {
  id: string;
}

const LEFT_AT = '2026-02-03T16:00:00Z';
const RECEIVED_AT = '2026-02-03T18:00:00Z';

/** One haul for everything that can be done with one, and lots that wait for another. */
export async function makeHauls(api: TestApi, programme: Programme, { yard }: Pick<Yard, 'yard'>) {
  const lot = () =>
    lotAtHub1(api, programme, 20_000, { basis: 'volume', occurredAt: '2026-02-02T16:00:00Z' });
  const send = async () => {
    const sent = { siteId: programme.hub1.id, toSiteId: yard.id, occurredAt: LEFT_AT };
    return made<Thing>(api, '/hauls', { ...sent, lots: { dropOffIds: [await lot()] } });
  };
  const received = await send();
  await made(api, `/hauls/${received.id}/receipt`, { occurredAt: RECEIVED_AT });
  return {
    hauls: { toReceive: await send(), toVoid: await send(), received },
    toHaul: [await lot(), await lot()],
    waitingSince: await lotAtHub1(api, programme, 9_000, { occurredAt: '2026-01-02T16:00:00Z' }),
  };
}

export function haulCalls({ programme, yard, tokens, hauls, toHaul }: GoodWorld): GoodCall[] {
  const { hub1, containers } = programme;
  const [volunteer, operator, manager] = [of(tokens.volunteer), of(tokens.operator), of(tokens.manager)];
  const counted = { containers: [{ containerId: containers.bucket.id, count: 2 }] };
  const weighed = { ...counted, weight: { gross: { value: 90, unit: 'lb' } }, note: 'Grün, zwei Eimer' };
  const sent = () => ({ id: v7(), siteId: hub1.id, occurredAt: LEFT_AT });
  const lots = { dropOffIds: toHaul };
  const allWaiting = { upTo: '2026-01-03T16:00:00Z' };
  const received = { id: v7(), occurredAt: RECEIVED_AT, ...weighed, explanation: 'Ein Eimer lief aus' };
  const why = { reason: 'Entered twice' };
  return [
    {
      ...volunteer.post('/hauls', {}, { ...sent(), ...weighed, toSiteId: yard.yard.id, lots }),
      toldElsewhere: ['/elsewhere', '/lots/allWaiting'],
    },
    volunteer.post('/hauls', {}, { ...sent(), elsewhere: 'Fennmoor Hofkompost', lots: { allWaiting } }),
    { ...volunteer.get('/hauls'), query: { siteId: hub1.id, open: 'true' } },
    volunteer.get('/hauls/:id', { id: hauls.received.id }),
    volunteer.get('/hauls/:id/lots', { id: hauls.received.id }),
    volunteer.post(
      '/hauls/:id/explanations',
      { id: hauls.received.id },
      { id: v7(), explanation: 'Nass vom Regen: größer' },
    ),
    operator.post('/hauls/:id/receipt', { id: hauls.toReceive.id }, received),
    manager.post('/hauls/:id/receipt/void', { id: hauls.received.id }, why),
    manager.post('/hauls/:id/void', { id: hauls.toVoid.id }, why),
  ];
}
