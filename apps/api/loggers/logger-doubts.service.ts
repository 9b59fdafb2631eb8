import { Injectable } from '@nestjs/common';
import { besideMs, type LoggerBeside, type LoggerHours, type UsedInstrument } from '#libs/process';
import { hourMs } from '#libs/quantities';
import type { AnyWrite } from '../http/writes/work.js';
import { LoggerDoubtsRecords, type LoggerHour } from './logger-doubts.records.js';

/** What the loggers of a batch can be doubted by. */
export interface DoubtedLoggers {
  hours: LoggerHours[];
  /** What they showed when somebody was there with a thermometer. */
  beside: LoggerBeside[];
  instruments: UsedInstrument[];
}

/** Facts of a batch's loggers for whoever judges how far they can be trusted, hour by hour. */
@Injectable()
export class LoggerDoubtsService {
  constructor(private readonly records: LoggerDoubtsRecords) {}

  /** The hours alone, from the one that `fromMs` lies in, up to and with `throughMs`. */
  async hours(batchId: string, fromMs: number, throughMs: number): Promise<LoggerHours[]> {
    const from = new Date(Math.floor(fromMs / hourMs) * hourMs);
    return hoursOf(byDevice(await this.records.hours(batchId, new Date(throughMs + 1), from)));
  }

  /** Up to and with `throughMs`. Inside a transaction, give its `sql`. */
  async ofBatch(
    batchId: string,
    checkedAtMs: readonly number[],
    throughMs: number,
    sql?: AnyWrite['sql'],
  ): Promise<DoubtedLoggers> {
    const until = new Date(throughMs + 1);
    const hours = byDevice(await this.records.hours(batchId, until, undefined, sql));
    if (hours.size === 0) return { hours: [], beside: [], instruments: [] };
    const checks = checkedAtMs.map((atMs) => new Date(atMs));
    const beside = byDevice(await this.records.beside(batchId, until, checks, besideMs, sql));
    const instruments = await this.records.instruments([...hours.keys()], until, sql);
    return {
      hours: hoursOf(hours),
      beside: [...beside.values()].map((some) => ({ logger: some[0]?.logger ?? '', readings: some })),
      instruments: instruments.map(({ deviceId, ...instrument }) => ({
        ...instrument,
        uses: usesOf(hours.get(deviceId) ?? []),
      })),
    };
  }
}

const hoursOf = (byDeviceId: ReadonlyMap<string, readonly LoggerHour[]>): LoggerHours[] =>
  [...byDeviceId.values()].map((hours) => ({ logger: hours[0]?.logger ?? '', hours }));

/** Of each hour, however many probes told of it. */
function usesOf(hours: readonly LoggerHour[]): UsedInstrument['uses'] {
  const readings = new Map<number, number>();
  for (const hour of hours) readings.set(hour.atMs, (readings.get(hour.atMs) ?? 0) + hour.readings);
  return [...readings].map(([fromMs, count]) => ({ fromMs, toMs: fromMs + hourMs, readings: count }));
}

function byDevice<Row extends { deviceId: string }>(rows: readonly Row[]): Map<string, Row[]> {
  const devices = new Map<string, Row[]>();
  for (const row of rows) {
    const some = devices.get(row.deviceId);
    if (some) some.push(row);
    else devices.set(row.deviceId, [row]);
  }
  return devices;
}
