import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { governingFigures, type LoggerReading, type ProbeTerms, seriesOf } from '#libs/process';
import { LoggerSeriesService } from '../../apps/api/loggers/logger-series.service.js';
import { startApi, type TestApi } from '../support/api.js';
import { HOUR_MS, hoursAfter } from '../support/heat.js';
import { makeDevice, reading, send } from '../support/loggers.js';
import { made, makeProgramme } from '../support/programme.js';
import { BEGUN_AT, makeYard, type Yard } from '../support/yard-work.js';

/** Numbers from 0 to 1 that are the same in every run (a linear congruential generator, Numerical Recipes). */
function dice(seed: number): () => number {
  let state = seed;
  return () => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return state / 2 ** 32;
  };
}

const terms: ProbeTerms[] = governingFigures.flatMap((governing) =>
  [1, 2].flatMap((minimumZones) =>
    [null, 300].flatMap((minimumDepthMm) =>
      [0, 1, 3].map((minimumProbes) => ({ governing, minimumZones, minimumDepthMm, minimumProbes })),
    ),
  ),
);

describe('what loggers show of a batch', () => {
  let api: TestApi;
  let yard: Yard;
  let series: LoggerSeriesService;
  beforeAll(async () => {
    api = await startApi();
    yard = await makeYard(api, await makeProgramme(api));
    series = api.app.get(LoggerSeriesService);
  });
  afterAll(() => api.stop());

  const throughMs = Date.parse(hoursAfter(BEGUN_AT, 24 * 60));
  const manager = () => yard.manager.token;

  it('is put together in the database as libs/process does it, reading by reading', async () => {
    const next = dice(20260303);
    const one = <T>(of: readonly T[]): T => of[Math.floor(next() * of.length)]!;
    const batch = await yard.begin();
    const device = await makeDevice(
      api,
      { siteId: yard.yard.id, code: 'L-1', batchIds: [batch.id] },
      manager(),
    );
    const told = new Map<string, LoggerReading>();
    const sent = Array.from({ length: 3_000 }, () => {
      const occurredAt = hoursAfter(BEGUN_AT, Math.floor(next() * 600) / 4);
      const position = one(['a', 'b', 'c', 'd', 'e']);
      const zone = one([undefined, 'core', 'edge']);
      const depthCm = one([undefined, 10, 29.9, 30, 90]);
      const value = next() < 0.05 ? 100 + Math.round(next() * 3) / 10 : Math.round(next() * 900) / 10;
      const key = `${position} ${occurredAt}`;
      if (!told.has(key)) {
        told.set(key, {
          ...{ position, zone: zone ?? null, atMs: Date.parse(occurredAt) },
          depthMm: depthCm === undefined ? null : Math.round(depthCm * 10),
          temperatureDeciC: Math.round(value * 10),
        });
      }
      return {
        ...reading({ batchId: batch.id, position, occurredAt, temperature: { value, unit: 'C' } }),
        ...(zone === undefined ? {} : { zone }),
        ...(depthCm === undefined ? {} : { depth: { value: depthCm, unit: 'cm' } }),
      };
    });
    const { body } = await send(api, device.key, sent);
    expect(body.new).toBe(told.size);
    expect(told.size).toBeGreaterThan(1_500);
    for (const rule of terms) {
      const [shown, ...others] = await series.series(batch.id, rule, { throughMs });
      expect(others).toEqual([]);
      expect(shown, JSON.stringify(rule)).toEqual(seriesOf('L-1', told.values(), rule));
    }
    const lacking = seriesOf('L-1', told.values(), { ...terms.at(-1)!, governing: 'coldest' }).lack;
    expect(new Set(lacking).size).toBe(4);
  });

  it('follows the batch from bay to bay, and leaves out what was told before it came or after it left', async () => {
    const [first, second] = [yard.freeBay(), yard.freeBay()];
    const batch = await yard.begin({ bay: first });
    const [here, there] = [
      await makeDevice(api, { siteId: yard.yard.id, code: 'L-2', bays: [first] }, manager()),
      await makeDevice(api, { siteId: yard.yard.id, code: 'L-3', bays: [second] }, manager()),
    ];
    const hours = Array.from({ length: 100 }, (_, hour) => hour - 10);
    for (const [device, bay] of [
      [here, first],
      [there, second],
    ] as const) {
      await send(
        api,
        device.key,
        hours.map((hour) => reading({ bay, occurredAt: hoursAfter(BEGUN_AT, hour) })),
      );
    }
    const rule = terms[1]!;
    const spanned = async (throughHour = 1_000) => {
      const shown = await series.series(batch.id, rule, {
        throughMs: Date.parse(hoursAfter(BEGUN_AT, throughHour)),
      });
      return shown.map(({ logger, atMs }) => {
        const hour = (ms: number) => (ms - Date.parse(BEGUN_AT)) / HOUR_MS;
        return [logger, hour(atMs[0]!), hour(atMs.at(-1)!), atMs.length];
      });
    };
    expect(await spanned()).toEqual([['L-2', 0, 89, 90]]);
    const move = { bay: second, occurredAt: hoursAfter(BEGUN_AT, 40) };
    await made(api, `/batches/${batch.id as string}/moves`, move, yard.operator.token);
    // At the very hour of the move it is in the bay it was carried to.
    expect(await spanned()).toEqual([
      ['L-2', 0, 39, 40],
      ['L-3', 40, 89, 50],
    ]);
    expect(await spanned(50)).toEqual([
      ['L-2', 0, 39, 40],
      ['L-3', 40, 50, 11],
    ]);
    const later = await series.series(batch.id, rule, {
      fromMs: Date.parse(hoursAfter(BEGUN_AT, 60)),
      throughMs,
    });
    expect(later.map(({ logger, atMs }) => [logger, atMs.length])).toEqual([['L-3', 30]]);
  });

  it('is nothing where no logger was', async () => {
    const batch = await yard.begin();
    expect(await series.series(batch.id, terms[0]!, { throughMs })).toEqual([]);
  });
});
