import type { TestApi } from './api.js';
import { made } from './programme.js';

export const HOUR_MS = 3_600_000;

/** So many hours after an instant. */
export const hoursAfter = (instant: string, hours: number) =>
  new Date(Date.parse(instant) + hours * HOUR_MS).toISOString();

/** Checks of a batch with the same temperatures (°C) in each, one probe each, so many hours apart. */
export async function heat(
  api: TestApi,
  batchId: string,
  { from, hours, every = 24, celsius = [60], as = api.coordinator }: HeatOptions,
): Promise<void> {
  for (let after = 0; after <= hours; after += every) {
    const readings = celsius.map((value, index) => ({
      position: `core-${index + 1}`,
      temperature: { value, unit: 'C' },
    }));
    const body = { occurredAt: hoursAfter(from, after), readings };
    await made(api, `/batches/${batchId}/checks`, body, as);
  }
}

interface HeatOptions {
  from: string;
  hours: number;
  every?: number;
  celsius?: number[];
  as?: string;
}
