import { Injectable } from '@nestjs/common';
import { Database, type Sql } from '#libs/database';
import type { ObservedCheck } from '#libs/process';

/** What was seen of a batch and done to it, voided records left out. */
export interface SeenAndDone {
  checks: ObservedCheck[];
  turnsMs: number[];
  waterings: { occurredAtMs: number; volumeMl: number | null }[];
}

const AT = '(extract(epoch FROM occurred_at) * 1000)::int8';

const SEEN_AND_DONE = `
  SELECT
    coalesce((SELECT json_agg(json_build_object('id', c.id, 'occurredAtMs', ${AT}, 'moisture', c.moisture,
        'moisturePercent', c.moisture_percent::float8, 'odour', c.odour, 'oxygenPercent', c.oxygen_percent::float8,
        'ambientDeciC', c.ambient_deci_c, 'signs', c.signs, 'texture', c.texture, 'inputsVisible', c.inputs_visible,
        'readings', r.readings) ORDER BY occurred_at, c.id)
      FROM batch_check c CROSS JOIN LATERAL (
        SELECT coalesce(json_agg(json_build_object('position', position, 'zone', zone, 'depthMm', depth_mm,
          'temperatureDeciC', temperature_deci_c) ORDER BY line), '[]') AS readings
        FROM check_reading WHERE check_id = c.id) r
      WHERE c.batch_id = $1 AND c.voided_at IS NULL), '[]') AS checks,
    coalesce((SELECT json_agg(${AT} ORDER BY occurred_at)
      FROM turn WHERE batch_id = $1 AND voided_at IS NULL), '[]') AS "turnsMs",
    coalesce((SELECT json_agg(json_build_object('occurredAtMs', ${AT}, 'volumeMl', volume_ml) ORDER BY occurred_at)
      FROM watering WHERE batch_id = $1 AND voided_at IS NULL), '[]') AS waterings`;

@Injectable()
export class AdviceRecords {
  constructor(private readonly database: Database) {}

  /** In order of time, in one round trip. */
  async seenAndDone(batchId: string, sql: Sql = this.database.sql): Promise<SeenAndDone> {
    const [row] = await sql.query<SeenAndDone>(SEEN_AND_DONE, [batchId], 'seen-and-done');
    return row ?? { checks: [], turnsMs: [], waterings: [] };
  }
}
