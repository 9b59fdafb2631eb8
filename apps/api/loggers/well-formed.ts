import { lengthUnits, temperatureUnits } from '#libs/quantities';
import { INSTANT, NO_CONTROL, ONE_LINE } from '../http/dto/fields.js';
import { readAs } from '../http/dto/validation.js';
import { MOST_READINGS, NewLoggerReadingsDto } from './logger-readings.dto.js';

/**
 * A delivery as its class. Validating 20,000 objects one by one takes longer than everything else about them, so what
 * is seen at a glance to be well formed is not looked at again; the class is asked about anything else, and says why not.
 */
export function readingsIn(body: unknown): NewLoggerReadingsDto {
  return isWellFormed(body) ? body : readAs(NewLoggerReadingsDto, body);
}

/** True only of what the class takes; it may be false of that too. */
function isWellFormed(body: unknown): body is NewLoggerReadingsDto {
  if (!hasOnly(body, ['readings'])) return false;
  const { readings } = body;
  if (!Array.isArray(readings) || readings.length === 0 || readings.length > MOST_READINGS) return false;
  return readings.every(isReading);
}

const FIELDS = ['bay', 'batchId', 'position', 'zone', 'depth', 'temperature', 'occurredAt'];
const QUANTITY = ['value', 'unit'];
const UUID = /^[0-9a-f]{8}-[0-9a-f]{4}-[1-8][0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}$/i;

function isReading(reading: unknown): boolean {
  if (!hasOnly(reading, FIELDS)) return false;
  const { bay, batchId, position, zone, depth, temperature, occurredAt } = reading;
  return (
    isLine(position, 40) &&
    typeof occurredAt === 'string' &&
    INSTANT.test(occurredAt) &&
    isQuantity(temperature, -1e6, 1e6, temperatureUnits) &&
    (bay === undefined || isText(bay, 24)) &&
    (batchId === undefined || (typeof batchId === 'string' && UUID.test(batchId))) &&
    (zone === undefined || isLine(zone, 40)) &&
    (depth === undefined || isQuantity(depth, 0, 100_000, lengthUnits))
  );
}

const isText = (value: unknown, max: number): boolean =>
  typeof value === 'string' && value.length <= max && /\S/.test(value) && NO_CONTROL.test(value);

const isLine = (value: unknown, max: number): boolean => isText(value, max) && ONE_LINE.test(String(value));

function isQuantity(quantity: unknown, min: number, max: number, units: readonly unknown[]): boolean {
  if (!hasOnly(quantity, QUANTITY)) return false;
  const { value, unit } = quantity;
  return typeof value === 'number' && value >= min && value <= max && units.includes(unit);
}

function hasOnly(value: unknown, names: readonly string[]): value is Record<string, unknown> {
  if (typeof value !== 'object' || value === null || Array.isArray(value)) return false;
  for (const name of Object.keys(value)) if (!names.includes(name)) return false;
  return true;
}
