import { Injectable } from '@nestjs/common';
import { Database, type Sql } from '#libs/database';
import type { UsedInstrument } from '#libs/process';

/** Thermometers of checks that stand, with when they were read and their whole log up to then. */
const USED = `
  SELECT i.code AS instrument, i.verify_every_days AS "verifyEveryDays",
    json_agg(json_build_object('fromMs', used.at_ms, 'toMs', used.at_ms, 'readings', used.readings)) AS uses,
    coalesce((SELECT json_agg(json_build_object('passed', v.passed,
          'occurredAtMs', (extract(epoch FROM v.occurred_at) * 1000)::int8) ORDER BY v.occurred_at, v.id)
        FROM instrument_verification v WHERE v.instrument_id = i.id AND v.occurred_at <= $2), '[]') AS verifications
  FROM (
    SELECT r.instrument_id, (extract(epoch FROM c.occurred_at) * 1000)::int8 AS at_ms, count(*) AS readings
    FROM batch_check c JOIN check_reading r ON r.check_id = c.id
    WHERE c.batch_id = $1 AND c.voided_at IS NULL AND c.occurred_at <= $2 AND r.instrument_id IS NOT NULL
    GROUP BY r.instrument_id, c.occurred_at) AS used
  JOIN instrument i ON i.id = used.instrument_id
  GROUP BY i.id ORDER BY i.code`;

@Injectable()
export class CautionsRecords {
  constructor(private readonly database: Database) {}

  used(batchId: string, asOf: Date, sql: Sql = this.database.sql): Promise<UsedInstrument[]> {
    return sql.query<UsedInstrument>(USED, [batchId, asOf], 'caution-uses');
  }
}
