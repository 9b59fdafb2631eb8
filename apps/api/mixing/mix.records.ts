import { Injectable } from '@nestjs/common';
import { Database, type Sql } from '#libs/database';

/** What went into a batch of one material. */
export interface MaterialLine {
  materialCode: string;
  massG: number;
  /** Part of it that was estimated from a volume. */
  estimatedG: number;
  /** The volume that was seen of that part: of what is in the batch of a lot, its share. */
  estimatedMl: number;
}

// What of a batch is in drop-offs is assigned while it is built and at no other time; amendments may come later. A lot has a
// volume where its mass was estimated from it, and none where it was weighed.
const linesOf = (batchId: string, amendedUpTo = '') => `
  SELECT "materialCode", sum(mass_g)::bigint AS "massG",
    coalesce(sum(mass_g) FILTER (WHERE seen_ml IS NOT NULL), 0)::bigint AS "estimatedG",
    coalesce(sum(seen_ml::float8 * mass_g / of_g), 0) AS "estimatedMl"
  FROM (
    SELECT lot.material_code AS "materialCode", a.mass_g, lot.volume_ml AS seen_ml, lot.net_g AS of_g
    FROM assignment a JOIN drop_off_revision lot ON lot.drop_off_id = a.drop_off_id AND lot.superseded_by IS NULL
    WHERE a.batch_id = ${batchId} AND a.voided_at IS NULL
    UNION ALL
    SELECT material_code, mass_g, CASE basis WHEN 'volume' THEN volume_ml END, mass_g FROM amendment
    WHERE batch_id = ${batchId} AND voided_at IS NULL ${amendedUpTo}
  ) AS input GROUP BY 1 ORDER BY 1`;

const MATERIALS = linesOf('$1', 'AND ($2::timestamptz IS NULL OR occurred_at <= $2)');

const BUILDING = `
  SELECT b.id, b.code, (SELECT coalesce(json_agg(line), '[]') FROM (${linesOf('b.id')}) AS line) AS lines
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
   * What the batch was mixed of: assignments, and amendments up to a moment (null: all). Water given later, to a pile that
   * dries, is no part of it.
   */
  async materials(batchId: string, upTo: Date | null, sql: Sql = this.database.sql): Promise<MaterialLine[]> {
    return sql.query<MaterialLine>(MATERIALS, [batchId, upTo], 'mix-materials');
  }

  /** All that is being built at the yard, in order of code. */
  async building(siteId: string): Promise<BuildingBatch[]> {
    return this.database.sql.query<BuildingBatch>(BUILDING, [siteId], 'mixes-building');
  }
}
