import { Injectable } from '@nestjs/common';
import { Database, type Sql } from '#libs/database';
import type { MoistureWord, Odour, Sign, Texture } from '#libs/process';
import { type BatchEntry, BatchLog } from '../http/writes/batch-log.records.js';
import type { SqlWrite } from '../http/writes/work.js';
import type { CheckEntered, CheckWarningDto } from './checks.dto.js';
import type { Reading } from './readings.js';

export interface CheckRow extends BatchEntry {
  moisture: MoistureWord | null;
  moisturePercent: number | null;
  odour: Odour | null;
  oxygenPercent: number | null;
  ambientDeciC: number | null;
  signs: Sign[] | null;
  texture: Texture | null;
  inputsVisible: boolean | null;
  note: string | null;
  entered: CheckEntered;
  warnings: CheckWarningDto[];
  /** In the order they were entered. */
  readings: Reading[];
}

const OWN = `e.moisture, e.moisture_percent::float8 AS "moisturePercent", e.odour,
  e.oxygen_percent::float8 AS "oxygenPercent", e.ambient_deci_c AS "ambientDeciC", e.signs, e.texture,
  e.inputs_visible AS "inputsVisible", e.note, e.entered, e.warnings,
  (SELECT json_agg(json_build_object('position', r.position, 'zone', r.zone, 'depthMm', r.depth_mm,
      'temperatureDeciC', r.temperature_deci_c, 'instrumentId', r.instrument_id) ORDER BY r.line)
   FROM check_reading r WHERE r.check_id = e.id) AS readings`;

const INSERT_READINGS = `
  INSERT INTO check_reading (check_id, line, position, zone, depth_mm, temperature_deci_c, instrument_id)
  SELECT $1, line, position, zone, depth_mm, temperature_deci_c, instrument_id
  FROM unnest($2::text[], $3::text[], $4::int[], $5::int[], $6::uuid[])
    WITH ORDINALITY AS given (position, zone, depth_mm, temperature_deci_c, instrument_id, line)`;

/** What a verdict and a cure need of the checks that stand. */
export interface CheckFacts {
  id: string;
  occurredAtMs: number;
  /** Measured; null where it was felt in the hand, or not looked at. */
  moisturePercent: number | null;
  readings: Pick<Reading, 'position' | 'zone' | 'depthMm' | 'temperatureDeciC'>[];
}

const FACTS = `
  SELECT c.id, (extract(epoch FROM c.occurred_at) * 1000)::int8 AS "occurredAtMs",
    c.moisture_percent::float8 AS "moisturePercent",
    json_agg(json_build_object('position', r.position, 'zone', r.zone, 'depthMm', r.depth_mm,
      'temperatureDeciC', r.temperature_deci_c) ORDER BY r.line) AS readings
  FROM batch_check c JOIN check_reading r ON r.check_id = c.id
  WHERE c.batch_id = $1 AND c.voided_at IS NULL
  GROUP BY c.id ORDER BY c.occurred_at, c.id`;

@Injectable()
export class ChecksRecords extends BatchLog<CheckRow> {
  constructor(database: Database) {
    super(database, 'check', 'batch_check', OWN);
  }

  async insertReadings({ sql }: SqlWrite, checkId: string, readings: readonly Reading[]): Promise<void> {
    const columns = [
      readings.map(({ position }) => position),
      readings.map(({ zone }) => zone),
      readings.map(({ depthMm }) => depthMm),
      readings.map(({ temperatureDeciC }) => temperatureDeciC),
      readings.map(({ instrumentId }) => instrumentId),
    ];
    await sql.query(INSERT_READINGS, [checkId, ...columns], 'check-readings');
  }

  /** All that stand, in order of time, in one round trip. */
  facts(batchId: string, sql: Sql = this.database.sql): Promise<CheckFacts[]> {
    return sql.query<CheckFacts>(FACTS, [batchId], 'check-facts');
  }
}
