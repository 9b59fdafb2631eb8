import type { Answer, TestApi } from './api.js';
import { made } from './programme.js';

export interface DeviceKey {
  id: string;
  code: string;
  key: string;
}

/** A logger of a yard, with its key. */
export const makeDevice = (
  api: TestApi,
  facts: { siteId: string; code: string; bays?: string[]; batchIds?: string[]; instrumentId?: string },
  as?: string,
): Promise<DeviceKey> => made<DeviceKey>(api, '/device-keys', facts, as);

export interface Told {
  bay?: string;
  batchId?: string;
  position?: string;
  zone?: string;
  depth?: { value: number; unit: string };
  temperature?: { value: number; unit: string };
  occurredAt: string;
}

/** A reading as a logger sends it: 60 °C at its core, unless told otherwise. */
export const reading = (told: Told) => ({
  position: 'core-1',
  temperature: { value: 60, unit: 'C' },
  ...told,
});

export const send = (api: TestApi, key: string, readings: object[]): Promise<Answer> =>
  api.call('POST', '/logger-readings', { as: key, body: { readings } });

/** One reading a minute of each position, in order of time. */
export function minutes(
  told: Omit<Told, 'occurredAt'> & { from: string; count: number },
  positions: string[],
) {
  const { from, count, ...rest } = told;
  return Array.from({ length: count }, (_, minute) =>
    positions.map((position) =>
      reading({ ...rest, position, occurredAt: new Date(Date.parse(from) + minute * 60_000).toISOString() }),
    ),
  ).flat();
}
