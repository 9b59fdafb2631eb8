import { celsiusOf } from '#libs/quantities';
import type { BatchEntry } from '../http/work/batch-log.records.js';
import type { CheckDto } from './checks.dto.js';
import type { CheckRow } from './checks.records.js';

export function entryView(row: BatchEntry & { note: string | null }) {
  const { id, batchId, note, recordedBy, voidReason } = row;
  return {
    ...{ id, batchId, note, recordedBy, voidReason },
    occurredAt: row.occurredAt.toISOString(),
    recordedAt: row.recordedAt.toISOString(),
    voidedAt: row.voidedAt?.toISOString() ?? null,
  };
}

export function checkView(row: CheckRow): CheckDto {
  const { moisture, moisturePercent, odour, oxygenPercent, warnings, entered } = row;
  return {
    ...entryView(row),
    readings: row.readings.map(({ position, depthMm, temperatureDeciC, instrumentId }) => ({
      position,
      depthCm: depthMm === null ? null : depthMm / 10,
      temperatureC: celsiusOf(temperatureDeciC),
      instrumentId,
    })),
    ...{ moisture, moisturePercent, odour, oxygenPercent, warnings, entered },
    ambientC: row.ambientDeciC === null ? null : celsiusOf(row.ambientDeciC),
  };
}
