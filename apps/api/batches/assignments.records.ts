import { Injectable } from '@nestjs/common';
import type { MassBasis } from '#libs/accounting';
import { Database, type Sql } from '#libs/database';

/** What an assignment must know of a drop-off. */
export interface Lot {
  id: string;
  siteId: string;
  occurredAt: Date;
  voided: boolean;
  leftG: number;
}

export interface AssignmentRow {
  id: string;
  batchId: string;
  dropOffId: string;
  siteId: string;
  materialCode: string;
  basis: MassBasis;
  massG: number;
  occurredAt: Date;
  recordedAt: Date;
  recordedBy: string;
  voidedAt: Date | null;
  voidReason: string | null;
}

/** Into which batch, when and by whom. */
export interface Assigning {
  batchId: string;
  occurredAt: Date;
  personId: string;
}

export interface NewAssignment {
  id: string;
  dropOffId: string;
  massG: number;
}

export interface Assigned {
  lots: number;
  massG: number;
}

const ROW = `
  SELECT a.id, a.batch_id AS "batchId", a.drop_off_id AS "dropOffId", lot.site_id AS "siteId",
    lot.material_code AS "materialCode", lot.basis, a.mass_g AS "massG", a.occurred_at AS "occurredAt",
    a.recorded_at AS "recordedAt", a.recorded_by AS "recordedBy", a.voided_at AS "voidedAt", a.void_reason AS "voidReason"
  FROM assignment a JOIN drop_off_now lot ON lot.drop_off_id = a.drop_off_id`;

const LOTS = `
  SELECT drop_off_id AS id, site_id AS "siteId", occurred_at AS "occurredAt", voided, accepted_g - assigned_g AS "leftG"
  FROM drop_off_now WHERE drop_off_id = ANY($1)`;

const INSERT = `
  INSERT INTO assignment (id, batch_id, occurred_at, recorded_by, drop_off_id, mass_g)
  SELECT item.id, $1, $2, $3, item."dropOffId", item."massG"
  FROM jsonb_to_recordset($4::jsonb) AS item(id uuid, "dropOffId" uuid, "massG" int)`;

// OFFSET 0 keeps the sum over each lot's assignments from being looked up once for every mention of it.
const INSERT_ALL_UNASSIGNED = `
  WITH assigned AS (
    INSERT INTO assignment (id, batch_id, occurred_at, recorded_by, drop_off_id, mass_g)
    SELECT id_v7(), $1, $2, $3, lot.drop_off_id, lot.left_g
    FROM (SELECT drop_off_id, accepted_g - assigned_g AS left_g FROM drop_off_now
          WHERE site_id = ANY($4::uuid[]) AND occurred_at <= $5 AND NOT voided OFFSET 0) AS lot
    WHERE lot.left_g > 0
    RETURNING mass_g)
  SELECT count(*)::int AS lots, coalesce(sum(mass_g), 0)::bigint AS "massG" FROM assigned`;

@Injectable()
export class AssignmentsRecords {
  constructor(private readonly database: Database) {}

  /**
   * Whoever assigns lots of these hubs next waits until this is committed, so that two yards that empty one hub at the
   * same moment share it out instead of one of them failing. Intake does not wait.
   */
  async lockHubs(sql: Sql, siteIds: readonly string[]): Promise<void> {
    await sql.query(
      `SELECT pg_advisory_xact_lock(hashtextextended('lots-of:' || hub, 0))
       FROM (SELECT DISTINCT unnest($1::uuid[])::text AS hub ORDER BY hub) AS hubs`,
      [siteIds],
    );
  }

  async lots(ids: readonly string[], sql: Sql = this.database.sql): Promise<Map<string, Lot>> {
    const rows = await sql.query<Lot>(LOTS, [ids], 'lots-to-assign');
    return new Map(rows.map((row) => [row.id, row]));
  }

  async byIds(ids: readonly string[], sql: Sql = this.database.sql): Promise<AssignmentRow[]> {
    return sql.query<AssignmentRow>(`${ROW} WHERE a.id = ANY($1)`, [ids], 'assignments-by-id');
  }

  /** The latest first, voided ones included. */
  async page(
    batchId: string,
    limit: number,
    after: { occurredAt: string; id: string } | null,
  ): Promise<AssignmentRow[]> {
    return this.database.sql.query<AssignmentRow>(
      `${ROW} WHERE a.batch_id = $1 AND ($2::timestamptz IS NULL OR (a.occurred_at, a.id) < ($2, $3::uuid))
       ORDER BY a.occurred_at DESC, a.id DESC LIMIT $4`,
      [batchId, after?.occurredAt, after?.id, limit + 1],
      'assignment-page',
    );
  }

  async insert(sql: Sql, into: Assigning, items: readonly NewAssignment[]): Promise<void> {
    await sql.query(INSERT, [into.batchId, into.occurredAt, into.personId, JSON.stringify(items)], 'assign');
  }

  /** Everything that is left of the lots of these hubs up to a time. */
  async insertAllUnassigned(
    sql: Sql,
    into: Assigning,
    siteIds: readonly string[],
    upTo: Date,
  ): Promise<Assigned> {
    const values = [into.batchId, into.occurredAt, into.personId, siteIds, upTo];
    const [assigned] = await sql.query<Assigned>(INSERT_ALL_UNASSIGNED, values, 'assign-all-unassigned');
    return assigned ?? { lots: 0, massG: 0 };
  }

  /** False when it was voided meanwhile. */
  async void(sql: Sql, id: string, personId: string, reason: string): Promise<boolean> {
    const rows = await sql.query(
      `UPDATE assignment SET voided_at = now(), voided_by = $2, void_reason = $3
       WHERE id = $1 AND voided_at IS NULL RETURNING id`,
      [id, personId, reason],
    );
    return rows.length === 1;
  }
}
