import type { Temporal } from 'temporal-polyfill';
import { at } from './calendar.js';
import { newId } from './client.js';
import type { Random } from './random.js';
import type { Pile, Yard } from './story.js';

const cm = (value: number) => ({ value: Math.round(value), unit: 'cm' });

/** A windrow of so many litres, as a tape would find it: its cross-section a parabola. */
function windrow(volumeL: number, random: Random): object {
  const heightCm = random.whole(85, 115);
  const widthCm = heightCm * 2.1;
  const lengthCm = (volumeL * 1000) / ((2 / 3) * widthCm * heightCm);
  return { shape: 'rounded-windrow', length: cm(lengthCm), width: cm(widthCm), height: cm(heightCm) };
}

/** How big the pile is once it is built: the layers have settled into each other. */
export async function measureBuilt(
  yard: Yard,
  pile: Pile,
  day: Temporal.PlainDate,
  random: Random,
): Promise<void> {
  const { volumeL } = await yard.crew.get<{ volumeL: number | null }>(`/batches/${pile.id}/mix`);
  if (volumeL === null) return;
  await yard.crew.post(`/batches/${pile.id}/pile-measurements`, {
    id: newId(),
    occurredAt: at(day, 19, 40),
    ...windrow(volumeL * random.between(0.7, 0.8), random),
  });
}

/** How big it is when it goes to cure, with a bucket of it weighed, so that what is left is known. */
export async function measureShrunk(
  yard: Yard,
  pile: Pile,
  day: Temporal.PlainDate,
  random: Random,
): Promise<void> {
  const { inputKg } = await yard.crew.get<{ inputKg: number }>(`/batches/${pile.id}/balance`);
  const leftL = (inputKg * random.between(0.54, 0.6)) / 0.55;
  await yard.crew.post(`/batches/${pile.id}/pile-measurements`, {
    id: newId(),
    occurredAt: at(day, 16, 45),
    ...windrow(leftL, random),
    density: {
      full: { value: 25.1, unit: 'lb' },
      empty: { value: 2.2, unit: 'lb' },
      volume: { value: 5, unit: 'gal' },
    },
  });
}
