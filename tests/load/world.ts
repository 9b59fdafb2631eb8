import { v7 } from 'uuid';
import type { Client } from './stand.js';

/** A hub with what a weighed lot needs. */
export interface World {
  token: string;
  siteId: string;
  /** A yard without bays. */
  yardId: string;
  jurisdictionId: string;
  containerId: string;
}

export async function made(client: Client, token: string, path: string, body: object): Promise<string> {
  const answer = await client.post(`/api${path}`, body, token);
  if (answer.status !== 201)
    throw new Error(`${path} answered ${answer.status}: ${JSON.stringify(answer.body)}`);
  return (answer.body as { id: string }).id;
}

export async function makeWorld(client: Client, first: { email: string; password: string }): Promise<World> {
  const session = await client.post('/api/sessions', first);
  const { token } = session.body as { token: string };
  const jurisdictionId = await made(client, token, '/jurisdictions', {
    name: 'Town of Lark Hollow',
    reportingYearStart: '07-01',
  });
  const siteId = await made(client, token, '/sites', {
    name: 'Quill Street Hub',
    code: 'QS',
    takesDropOffs: true,
    runsBatches: false,
    timeZone: 'America/Denver',
    jurisdictionId,
  });
  const yardId = await made(client, token, '/sites', {
    ...{ name: 'Mallow Bank yard', code: 'MB', takesDropOffs: false, runsBatches: true },
    ...{ timeZone: 'America/Denver', jurisdictionId },
  });
  const containerId = await made(client, token, '/containers', {
    siteId,
    code: 'B-01',
    tare: { value: 2.2, unit: 'lb' },
    volume: { value: 5, unit: 'gal' },
  });
  return { token, siteId, yardId, jurisdictionId, containerId };
}

/** A lot as a hub sends it. */
export function lotOf(world: World, index: number, occurredAt: string): { id: string } {
  const lot = {
    id: v7(),
    siteId: world.siteId,
    occurredAt,
    material: 'food-scraps',
    jurisdictionId: world.jurisdictionId,
    depositor: 'household',
    weight: { gross: { value: 6 + (index % 100) / 5, unit: 'lb' }, containerId: world.containerId },
  };
  return lot;
}
