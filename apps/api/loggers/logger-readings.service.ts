import { Injectable } from '@nestjs/common';
import { celsiusOf, lengthToMm, type Temperature, temperatureToDeciC } from '#libs/quantities';
import type { Actor } from '../http/access/actor.js';
import type { Device } from '../http/access/device.js';
import { keyOf, type Page, pageOf } from '../http/dto/paging.js';
import { instantMs, instantOrNull } from '../http/dto/time.js';
import type { Recorded } from '../http/writes/replay.js';
import { Work } from '../http/writes/work.js';
import {
  type ArrivedReading,
  isDoubtful,
  LoggerIngestService,
  type Refusal,
} from './logger-ingest.service.js';
import type {
  LoggerHourDto,
  LoggerHoursQuery,
  LoggerReadingsDto,
  NewLoggerReadingDto,
  NewLoggerReadingsDto,
} from './logger-readings.dto.js';
import { type HourRow, LoggerReadingsRecords } from './logger-readings.records.js';

/** Beyond any thermometer: converted roughly, to be refused in words. */
const FAR_DECI_C = { least: -2_700, most: 50_000 };

@Injectable()
export class LoggerReadingsService {
  constructor(
    private readonly work: Work,
    private readonly ingest: LoggerIngestService,
    private readonly readings: LoggerReadingsRecords,
  ) {}

  /** Keeps what can be kept, and tells of the rest one by one. */
  async record(device: Device, { readings }: NewLoggerReadingsDto): Promise<Recorded<LoggerReadingsDto>> {
    const arrived = readings.map(arrivedOf);
    const { outcomes, withoutBatch } = await this.work.writeByDevice((write) =>
      this.ingest.keepSent(write, device, arrived),
    );
    const body: LoggerReadingsDto = { new: 0, known: 0, warned: 0, withoutBatch, refused: [] };
    outcomes.forEach((outcome, index) => {
      if (typeof outcome === 'object') {
        body.refused.push(refusedView(index, outcome));
        return;
      }
      body[outcome] += 1;
      if (isDoubtful(arrived[index]?.temperatureDeciC ?? 0)) body.warned += 1;
    });
    return { replayed: body.new === 0, body };
  }

  async hours(actor: Actor, query: LoggerHoursQuery): Promise<Page<LoggerHourDto>> {
    const asked = {
      deviceId: query.deviceId,
      sites: actor.sitesFor('operator'),
      from: instantOrNull(query.from, '/from'),
      to: instantOrNull(query.to, '/to'),
    };
    const rows = await this.readings.hours(asked, query.limit, keyOf(query.cursor, 'instant', 'number'));
    return pageOf(rows, query.limit, ({ hour, probe }) => [hour.toISOString(), probe], hourView);
  }
}

function arrivedOf(dto: NewLoggerReadingDto, index: number): ArrivedReading {
  return {
    bay: dto.bay ?? null,
    batchId: dto.batchId?.toLowerCase() ?? null,
    position: dto.position,
    zone: dto.zone ?? null,
    depthMm: dto.depth ? lengthToMm(dto.depth) : null,
    temperatureDeciC: deciCOf(dto.temperature),
    atMs: instantMs(dto.occurredAt, `/readings/${index}/occurredAt`),
  };
}

function deciCOf(entered: Temperature): number {
  const rough = entered.unit === 'C' ? entered.value * 10 : ((entered.value - 32) * 50) / 9;
  const isFar = rough < FAR_DECI_C.least || rough > FAR_DECI_C.most;
  return isFar ? Math.round(rough) : temperatureToDeciC(entered);
}

const refusedView = (index: number, { field, detail }: Refusal) => ({
  index,
  pointer: `/readings/${index}/${field}`,
  detail,
});

function hourView(row: HourRow): LoggerHourDto {
  const { probe, bay, batchId, position, readings } = row;
  return {
    ...{ probe, bay, batchId, position, readings },
    hour: row.hour.toISOString(),
    minC: celsiusOf(row.minDeciC),
    maxC: celsiusOf(row.maxDeciC),
    meanC: celsiusOf(row.meanDeciC),
    firstAt: row.firstAt.toISOString(),
    lastAt: row.lastAt.toISOString(),
  };
}
