import type { Temporal } from 'temporal-polyfill';
import { ambientC, at } from './calendar.js';
import { newId } from './client.js';
import { fahrenheit, moistureFelt, moistureMeasured, odourOf, readings } from './pile.js';
import type { Random } from './random.js';
import type { Pile, Yard } from './story.js';

/** On these days of the week somebody brings the oven scale and takes a closer look. */
const CLOSER_LOOK = new Set([3, 7]);
const CLUMPY_FROM_DAY = 12;
const CRUMBLY_FROM_DAY = 45;

/** One visit of the crew: probes, hand, nose and eye, and water where it is dry. `age` is days since it was closed. */
export async function visit(
  yard: Yard,
  pile: Pile,
  day: Temporal.PlainDate,
  age: number,
  random: Random,
): Promise<void> {
  const air = ambientC(day);
  const felt = moistureFelt(pile.course, age, random);
  const closer = CLOSER_LOOK.has(day.dayOfWeek);
  await yard.crew.post(`/batches/${pile.id}/checks`, {
    id: newId(),
    occurredAt: at(day, 8, random.whole(0, 25)),
    readings: readings(pile.course, age, air, random).map((reading) => ({
      ...reading,
      instrumentId: yard.probeId,
    })),
    moisture: closer ? { percent: moistureMeasured(felt, random) } : felt,
    odour: odourOf(pile.course, age, random),
    ambient: { value: fahrenheit(air), unit: 'F' },
    ...(closer ? closerLook(pile, age) : {}),
  });
  if (felt === 'dry' && pile.course !== 'stalls-dry' && random.chance(0.6)) {
    const volume = { value: random.pick([10, 15, 20]), unit: 'gal' };
    await yard.crew.post(`/batches/${pile.id}/waterings`, {
      id: newId(),
      occurredAt: at(day, 9, 30),
      volume,
    });
  }
}

function closerLook({ course, stage }: Pile, age: number): object {
  const signs = course === 'ammonia' ? ['flies'] : [];
  if (stage === 'building' || age < CLUMPY_FROM_DAY) return { signs };
  const crumbly = age >= CRUMBLY_FROM_DAY;
  return { signs, texture: crumbly ? 'crumbly' : 'clumpy', inputsVisible: !crumbly };
}

export async function turn(yard: Yard, pile: Pile, day: Temporal.PlainDate): Promise<void> {
  await yard.crew.post(`/batches/${pile.id}/turns`, { id: newId(), occurredAt: at(day, 10) });
}
