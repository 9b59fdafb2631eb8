import { Injectable } from '@nestjs/common';
import { Database, type Sql } from '#libs/database';
import { type MaterialLine, type MergedPart, mergedLines } from './merged-lines.js';

export type { MaterialLine };

// What of a batch is in drop-offs is assigned while it is built and at no other time; amendments may come later. A lot
// whose mass was weighed with its whole haul was not estimated from its volume, though it keeps it.
const linesOf = (batchId: string, amendedUpTo = '') => `
  SELECT "materialCode", sum(mass_g)::bigint AS "massG",
    coalesce(sum(mass_g) FILTER (WHERE seen_ml IS NOT NULL), 0)::bigint AS "estimatedG",
    coalesce(sum(seen_ml::float8 * mass_g / of_g), 0) AS "estimatedMl"
  FROM (
    SELECT lot.material_code AS "materialCode", a.mass_g, CASE lot.basis WHEN 'volume' THEN lot.volume_ml END AS seen_ml,
      lot.net_g AS of_g
    FROM assignment a JOIN drop_off_revision lot ON lot.drop_off_id = a.drop_off_id AND lot.superseded_by IS NULL
    WHERE a.batch_id = ${batchId} AND a.voided_at IS NULL
    UNION ALL
    SELECT material_code, mass_g, CASE basis WHEN 'volume' THEN volume_ml END, mass_g FROM amendment
    WHERE batch_id = ${batchId} AND voided_at IS NULL ${amendedUpTo}
  ) AS input GROUP BY 1 ORDER BY 1`;

// The batch itself up to a moment; what was merged in up to then, and into that, in full.
const partsOf = (batchId: string, upTo: string) => `
  WITH RECURSIVE part (batch_id, taker_id, merged_g, steps) AS (
    SELECT ${batchId}, NULL::uuid, 0, 0
    UNION ALL
    SELECT m.from_batch_id, m.batch_id, m.mass_g, part.steps + 1
    FROM part JOIN batch_merge m ON m.batch_id = part.batch_id
    WHERE part.steps > 0 OR ${upTo} IS NULL OR m.occurred_at <= ${upTo})
  SELECT batch_id AS "batchId", taker_id AS "takerId", merged_g AS "mergedG",
    (SELECT coalesce(json_agg(line), '[]') FROM (${linesOf(
      'part.batch_id',
      `AND (part.steps > 0 OR ${upTo} IS NULL OR occurred_at <= ${upTo})`,
    )}) AS line) AS lines
  FROM part ORDER BY steps DESC, batch_id`;

const MATERIALS = partsOf('$1::uuid', '$2::timestamptz');

const BUILDING = `
  SELECT b.id, b.code,
    (SELECT json_agg(each) FROM (${partsOf('b.id', 'NULL::timestamptz')}) AS each) AS parts
  FROM batch_now b WHERE b.site_id = $1 AND b.stage = 'building' ORDER BY b.code`;

/** A batch that is being built, and what went in so far. */
export interface BuildingBatch {
  id: string;
  code: string;
  lines: MaterialLine[];
}

@Injectable()
export class MixRecords {
  constructor(private readonly database: Database) {}

  /**
   * What the batch was mixed of: assignments, and up to a moment (null: all) amendments and what was merged in, of that its
   * materials in proportion. Water given later, to a pile that dries, is no part of it.
   */
  async materials(batchId: string, upTo: Date | null, sql: Sql = this.database.sql): Promise<MaterialLine[]> {
    return mergedLines(await sql.query<MergedPart>(MATERIALS, [batchId, upTo], 'mix-materials'));
  }

  /** All that is being built at the yard, in order of code. */
  async building(siteId: string): Promise<BuildingBatch[]> {
    type Row = Omit<BuildingBatch, 'lines'> & { parts: MergedPart[] };
    const rows = await this.database.sql.query<Row>(BUILDING, [siteId], 'mixes-building');
    return rows.map(({ id, code, parts }) => ({ id, code, lines: mergedLines(parts) }));
  }
}
