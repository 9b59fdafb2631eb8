import 'reflect-metadata';
import { describe, expect, it } from 'vitest';
import { evaluateReadings, type LoggerSeries, processRule } from '#libs/process';
import { type Judging, ReadingOnService } from '../../../apps/api/monitoring/reading-on.service.js';

const HOUR_MS = 3_600_000;
const BEGUN_MS = Date.UTC(2026, 4, 1);
const rule = processRule('us-503-pfrp-static-aerated')!;
const facts = {
  ...{ timeZone: 'UTC', checks: [], turns: [] },
  rawAdditions: [{ occurredAtMs: BEGUN_MS, what: 'leaves' }],
};
const at = (hour: number) => BEGUN_MS + hour * HOUR_MS;

interface Row {
  atMs: number;
  deciC: number;
}

/** A logger whose every reading is committed at once, and what a request sees of it. */
class Told {
  private readonly rows: Row[] = [];
  /** Told before each look into what is kept, with how many there were. */
  beforeLook: (look: number) => void = () => undefined;

  add(hour: number, deciC: number): void {
    this.rows.push({ atMs: at(hour), deciC });
  }

  series(fromMs: number, throughMs: number): LoggerSeries[] {
    const rows = this.rows
      .filter(({ atMs }) => atMs >= fromMs && atMs <= throughMs)
      .toSorted((a, b) => a.atMs - b.atMs);
    if (rows.length === 0) return [];
    const deciC = Float64Array.from(rows, (row) => row.deciC);
    return [
      {
        ...{
          logger: 'L-1',
          atMs: Float64Array.from(rows, ({ atMs }) => atMs),
          lowDeciC: deciC,
          highDeciC: deciC,
        },
        ...{ enough: new Uint8Array(rows.length).fill(1), lack: new Uint8Array(rows.length) },
      },
    ];
  }

  /** As BatchSeries: what was asked for once is remembered as long as the request. */
  request(throughMs: number): Judging['series'] {
    const known = new Map<string, Promise<unknown>>();
    const once = <T>(key: string, ask: () => T): Promise<T> => {
      const answer = (known.get(key) as Promise<T> | undefined) ?? Promise.resolve().then(ask);
      this.beforeLook(known.has(key) ? -1 : known.size + 1);
      known.set(key, answer);
      return answer;
    };
    const spans = (until: number) => {
      const rows = this.rows.filter(({ atMs }) => atMs <= until);
      return rows.length === 0
        ? []
        : [{ deviceId: 'd', readings: rows.length, lastMs: Math.max(...rows.map(({ atMs }) => atMs)) }];
    };
    return {
      spans: (_sql: unknown, until = throughMs) => once(`spans ${until}`, () => spans(until)),
      under: (_rule: unknown, _sql: unknown, fromMs = -Infinity) =>
        once(`under ${fromMs}`, () => this.series(fromMs, throughMs)),
    } as unknown as Judging['series'];
  }
}

describe('a batch that is read on while readings come in late', () => {
  const asker = (told: Told) => {
    const service = new ReadingOnService();
    return async (hour: number) => {
      const asOfMs = at(hour);
      const series = told.request(asOfMs);
      const judging: Judging = { batchId: 'b', rule, reading: 'consecutive', facts, series, asOfMs };
      return (await service.verdict(judging)).verdict.creditedHours;
    };
  };
  const anew = (told: Told, hour: number) =>
    evaluateReadings(rule, { ...facts, series: told.series(-Infinity, at(hour)) }, at(hour), 'consecutive')
      .verdict.creditedHours;

  it.each([1, 2, 3, 4])(
    'finds out, at the latest the next time, what was committed before look %i',
    async (moment) => {
      const told = new Told();
      const ask = asker(told);
      for (let hour = 1; hour <= 120; hour += 1) told.add(hour, 600);
      expect(await ask(121)).toBe(anew(told, 121));
      for (let hour = 121; hour <= 150; hour += 1) told.add(hour, 600);
      const untouched = anew(told, 151);
      let came = false;
      told.beforeLook = (look) => {
        if (look !== moment || came) return;
        came = true;
        told.add(50.5, 200);
      };
      await ask(151);
      expect(came).toBe(true);
      expect(anew(told, 151)).toBeLessThan(untouched);
      expect(await ask(152)).toBe(anew(told, 152));
      for (let hour = 151; hour <= 200; hour += 1) told.add(hour, 600);
      expect(await ask(201)).toBe(anew(told, 201));
    },
  );
});
