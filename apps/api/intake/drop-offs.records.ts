import { Injectable } from '@nestjs/common';
import { Database, type Sql } from '#libs/database';
import type { LotFacts } from './lot.js';
import { type Reach, reaches, reachValues } from './reach.js';

export interface RevisionRow extends LotFacts {
  id: string;
  siteId: string;
  shiftId: string | null;
  importId: string | null;
  bodySha256: Buffer;
  revision: number;
  voided: boolean;
  reason: string | null;
  recordedAt: Date;
  recordedBy: string;
}

/** Whether it went with a haul, where to, and whether that came in. */
export interface Whereabouts {
  haulId: string | null;
  toSiteId: string | null;
  elsewhere: string | null;
  receivedAt: Date | null;
}

/** A lot as it stands. */
export interface LotRow extends RevisionRow, Whereabouts {
  assignedG: number;
}

/** A lot of a haul, with what it was estimated at when it was last estimated as it now stands. */
export interface HauledLotRow extends LotRow {
  estimateG: number | null;
}

/** Something that was done with a lot after it was dropped off, and stands. */
export interface LotStep {
  at: Date;
  /** Code and stage of the batch it went into; null where it left with a haul. */
  batch: string | null;
  stage: string | null;
}

export interface LotFilter {
  siteId: string | null;
  shiftId: string | null;
  from: Date | null;
  to: Date | null;
  unassigned: boolean;
  haulId: string | null;
  reach: Reach;
  limit: number;
  after: { occurredAt: string; id: string } | null;
}

const COLUMNS = `r.drop_off_id AS id, r.site_id AS "siteId", d.shift_id AS "shiftId", d.import_id AS "importId",
  d.body_sha256 AS "bodySha256", r.revision, r.occurred_at AS "occurredAt", r.material_code AS material,
  r.jurisdiction_id AS "jurisdictionId", r.depositor, r.basis, r.gross_g AS "grossG", r.tare_g AS "tareG",
  r.net_g AS "netG", r.rejected_g AS "rejectedG", r.accepted_g AS "acceptedG", r.volume_ml AS "volumeMl",
  r.density_kg_m3::float8 AS "densityKgM3", r.density_source AS "densitySource", r.container_id AS "containerId",
  r.haul_receipt_id AS "haulReceiptId", r.instrument_id AS "instrumentId", r.note, r.entered, r.warnings, r.voided, r.reason,
  r.recorded_at AS "recordedAt", r.recorded_by AS "recordedBy",
  ARRAY(
    SELECT jsonb_build_object('contaminant', x.contaminant, 'massG', x.mass_g, 'wentTo', x.went_to, 'entered', x.entered)
    FROM drop_off_reject x WHERE x.drop_off_id = r.drop_off_id AND x.revision = r.revision ORDER BY x.line
  ) AS rejects`;

const REVISIONS = `SELECT ${COLUMNS}
  FROM drop_off_revision r JOIN drop_off d ON d.id = r.drop_off_id`;

const NOW_COLUMNS = `${COLUMNS}, r.assigned_g AS "assignedG", went.haul_id AS "haulId", went.to_site_id AS "toSiteId",
  went.elsewhere, went.received_at AS "receivedAt"`;

const LOTS_NOW = `drop_off_now r JOIN drop_off d ON d.id = r.drop_off_id
  LEFT JOIN lot_on_haul went ON went.drop_off_id = r.drop_off_id`;

const NOW = `SELECT ${NOW_COLUMNS} FROM ${LOTS_NOW}`;

// The density that is kept is rounded, so that the estimate is not to be had from it to the gram.
const OF_HAUL = `SELECT ${NOW_COLUMNS}, (
    SELECT x.net_g FROM drop_off_revision x
    WHERE x.drop_off_id = r.drop_off_id AND x.basis = 'volume'
      AND (x.volume_ml, x.density_kg_m3) = (r.volume_ml, r.density_kg_m3)
    ORDER BY x.revision DESC LIMIT 1) AS "estimateG"
  FROM ${LOTS_NOW}`;

const STEPS = `
  SELECT h.occurred_at AS at, NULL AS batch, NULL AS stage
  FROM lot_on_haul l JOIN haul h ON h.id = l.haul_id WHERE l.drop_off_id = $1
  UNION ALL
  SELECT min(a.occurred_at), b.code, b.stage FROM assignment a JOIN batch_now b ON b.id = a.batch_id
  WHERE a.drop_off_id = $1 AND a.voided_at IS NULL GROUP BY b.code, b.stage
  ORDER BY at, batch`;

// Whoever recorded it first: a manager's correction does not take a lot out of its volunteer's sight.
const IS_OWN = `r.drop_off_id IN (
    SELECT f.drop_off_id FROM drop_off_revision f WHERE f.revision = 1 AND f.recorded_by = $3::uuid
    UNION ALL
    SELECT o.id FROM shift s JOIN drop_off o ON o.shift_id = s.id
    WHERE s.site_id = ANY($2::uuid[]) AND (s.closed_at IS NULL OR $3::uuid IN (s.recorded_by, s.closed_by)))`;

const page = (reach: Reach) => `${NOW}
  WHERE ${reaches(reach, 'r.site_id', IS_OWN)}
    AND ($4::uuid IS NULL OR r.site_id = $4)
    AND ($5::uuid IS NULL OR d.shift_id = $5)
    AND ($6::timestamptz IS NULL OR r.occurred_at >= $6)
    AND ($7::timestamptz IS NULL OR r.occurred_at < $7)
    AND (NOT $8::boolean OR (NOT r.voided AND r.assigned_g < r.accepted_g AND went.elsewhere IS NULL))
    AND ($9::uuid IS NULL OR r.drop_off_id IN (SELECT drop_off_id FROM haul_lot WHERE haul_id = $9))
    AND ($10::timestamptz IS NULL OR (r.occurred_at, r.drop_off_id) < ($10, $11::uuid))
  ORDER BY r.occurred_at DESC, r.drop_off_id DESC LIMIT $12`;

@Injectable()
export class DropOffsRecords {
  constructor(private readonly database: Database) {}

  /** First revisions of those that are kept, by id. */
  async firsts(ids: readonly string[]): Promise<Map<string, RevisionRow>> {
    if (ids.length === 0) return new Map();
    const rows = await this.database.sql.query<RevisionRow>(
      `${REVISIONS} WHERE r.drop_off_id = ANY($1::uuid[]) AND r.revision = 1`,
      [ids],
      'drop-off-firsts',
    );
    return new Map(rows.map((row) => [row.id, row]));
  }

  async now(id: string, sql: Sql = this.database.sql): Promise<LotRow | null> {
    const [row] = await sql.query<LotRow>(`${NOW} WHERE r.drop_off_id = $1`, [id], 'drop-off-now');
    return row ?? null;
  }

  /** In order of time. */
  async steps(id: string): Promise<LotStep[]> {
    return this.database.sql.query<LotStep>(STEPS, [id], 'drop-off-steps');
  }

  /** The lots that went with a haul and are not voided, by their ids. */
  async ofHaul(sql: Sql, haulId: string): Promise<HauledLotRow[]> {
    return sql.query<HauledLotRow>(
      `${OF_HAUL} WHERE NOT r.voided AND r.drop_off_id IN (SELECT drop_off_id FROM haul_lot WHERE haul_id = $1)
       ORDER BY r.drop_off_id`,
      [haulId],
      'lots-of-haul',
    );
  }

  /** In order. */
  async revisions(id: string): Promise<RevisionRow[]> {
    return this.database.sql.query<RevisionRow>(
      `${REVISIONS} WHERE r.drop_off_id = $1 ORDER BY r.revision`,
      [id],
      'drop-off-revisions',
    );
  }

  /** Whether a lot is among those that somebody may see. */
  async isReached(id: string, reach: Reach): Promise<boolean> {
    const rows = await this.database.sql.query(
      `SELECT FROM drop_off_revision r
       WHERE ${reaches(reach, 'r.site_id', IS_OWN)} AND r.drop_off_id = $4 AND r.revision = 1`,
      [...reachValues(reach), id],
    );
    return rows.length === 1;
  }

  /** Newest first, by when it happened. */
  async page(filter: LotFilter): Promise<LotRow[]> {
    const { siteId, shiftId, from, to, unassigned, haulId, reach, limit, after } = filter;
    const place = [after?.occurredAt ?? null, after?.id ?? null];
    // Not prepared: planned for the filters that are there.
    const values = [
      ...reachValues(reach),
      siteId,
      shiftId,
      from,
      to,
      unassigned,
      haulId,
      ...place,
      limit + 1,
    ];
    return this.database.sql.query<LotRow>(page(reach), values);
  }
}
