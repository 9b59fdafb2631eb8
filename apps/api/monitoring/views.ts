import { celsiusOf } from '#libs/quantities';
import { notedEntryView } from '../http/writes/entry-view.js';
import type { CheckDto } from './checks.dto.js';
import type { CheckRow } from './checks.records.js';

export function checkView(row: CheckRow): CheckDto {
  const { moisture, moisturePercent, odour, oxygenPercent, signs, texture, inputsVisible } = row;
  const { warnings, entered } = row;
  return {
    ...notedEntryView(row),
    readings: row.readings.map(({ position, zone, depthMm, temperatureDeciC, instrumentId }) => ({
      ...{ position, zone },
      depthCm: depthMm === null ? null : depthMm / 10,
      temperatureC: celsiusOf(temperatureDeciC),
      instrumentId,
    })),
    ...{ moisture, moisturePercent, odour, oxygenPercent, signs, texture, inputsVisible, warnings, entered },
    ambientC: row.ambientDeciC === null ? null : celsiusOf(row.ambientDeciC),
  };
}
