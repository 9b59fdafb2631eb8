import type { Temporal } from 'temporal-polyfill';
import { at } from './calendar.js';
import { type Caller, newId } from './client.js';
import type { HubStory, YardStory } from './places.js';

const VERIFY_EVERY_DAYS = 365;
const SECOND_VERIFICATION_DAY = 300;

/** Enters a scale or thermometer with its verifications; `days` counts from the first of the story. */
async function addInstrument(
  manager: Caller,
  instrument: object,
  first: Temporal.PlainDate,
  { days, reference }: { days: number[]; reference: string },
): Promise<string> {
  const { id } = await manager.post('/instruments', { ...instrument, verifyEveryDays: VERIFY_EVERY_DAYS });
  for (const day of days) {
    await manager.post(`/instruments/${id}/verifications`, {
      id: newId(),
      occurredAt: at(first.add({ days: day }), 7),
      passed: true,
      reference,
    });
  }
  return id;
}

export async function addBuckets(manager: Caller, siteId: string): Promise<string[]> {
  const containers: string[] = [];
  for (let number = 1; number <= 8; number += 1) {
    const { id } = await manager.post('/containers', {
      siteId,
      code: `B-${String(number).padStart(2, '0')}`,
      tare: { value: 2.2, unit: 'lb' },
      volume: { value: 5, unit: 'gal' },
    });
    containers.push(id);
  }
  return containers;
}

export async function addScale(
  manager: Caller,
  siteId: string,
  story: HubStory,
  first: Temporal.PlainDate,
): Promise<string | null> {
  if (!story.hasScale) return null;
  const scale = { siteId, code: 'S-1', kind: 'scale', division: { value: 0.2, unit: 'lb' } };
  const days = [0, SECOND_VERIFICATION_DAY];
  return addInstrument(manager, scale, first, { days, reference: '10 lb test mass, shown 10.0' });
}

export interface Thermometers {
  probeId: string;
  loggerId: string | null;
}

/** The long probe and, where there is one, the logger. The yard with the logger forgot to verify its probe again. */
export async function addThermometers(
  manager: Caller,
  siteId: string,
  { hasLogger }: YardStory,
  first: Temporal.PlainDate,
): Promise<Thermometers> {
  const probe = { siteId, code: 'T-1', kind: 'thermometer', resolution: { value: 1, unit: 'F' } };
  const probeId = await addInstrument(manager, probe, first, {
    days: hasLogger ? [0] : [0, SECOND_VERIFICATION_DAY],
    reference: 'ice water, shown 32 °F',
  });
  if (!hasLogger) return { probeId, loggerId: null };
  const logger = { siteId, code: 'L-1', kind: 'thermometer', resolution: { value: 0.1, unit: 'C' } };
  const reference = 'warm water beside a reference thermometer, 60.0 °C: 60.1, 60.0, 59.9 and 60.2 shown';
  const loggerId = await addInstrument(manager, logger, first, {
    days: [SECOND_VERIFICATION_DAY],
    reference,
  });
  return { probeId, loggerId };
}
