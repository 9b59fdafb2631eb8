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
  /** Of the haul it went with, if it did. */
  haulId: string | null;
  toSiteId: string | null;
  elsewhere: string | null;
  receivedAt: Date | null;
}

/** A haul as far as its lots may be assigned. */
export interface HaulOfLots {
  id: string;
  siteId: string;
  toSiteId: string | null;
  voided: boolean;
  receivedAt: Date | null;
}

/** Lots are meant by the sites or by the hauls that they come from. */
export type From = { siteIds: readonly string[] } | { haulIds: readonly string[] };

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

/** Into which batch of which yard, when and by whom. */
export interface Assigning {
  batchId: string;
  yardId: string;
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
  SELECT r.drop_off_id AS id, r.site_id AS "siteId", r.occurred_at AS "occurredAt", r.voided,
    r.accepted_g - r.assigned_g AS "leftG", went.haul_id AS "haulId", went.to_site_id AS "toSiteId", went.elsewhere,
    went.received_at AS "receivedAt"
  FROM drop_off_now r LEFT JOIN lot_on_haul went ON went.drop_off_id = r.drop_off_id WHERE r.drop_off_id = ANY($1)`;

const HAULS = `
  SELECT h.id, h.site_id AS "siteId", h.to_site_id AS "toSiteId", h.voided_at IS NOT NULL AS voided,
    p.occurred_at AS "receivedAt"
  FROM haul h LEFT JOIN haul_receipt p ON p.haul_id = h.id AND p.voided_at IS NULL WHERE h.id = ANY($1::uuid[])`;

const INSERT = `
  INSERT INTO assignment (id, batch_id, occurred_at, recorded_by, drop_off_id, mass_g)
  SELECT item.id, $1, $2, $3, item."dropOffId", item."massG"
  FROM jsonb_to_recordset($4::jsonb) AS item(id uuid, "dropOffId" uuid, "massG" int)`;

// OFFSET 0 keeps the sum over each lot's assignments from being looked up once for every mention of it. In order, every lot
// is read before the first is written, and all who take lots take them in the same order.
const INSERT_ALL_UNASSIGNED = `
  WITH assigned AS (
    INSERT INTO assignment (id, batch_id, occurred_at, recorded_by, drop_off_id, mass_g)
    SELECT id_v7(), $1, $2, $3, lot.drop_off_id, lot.left_g
    FROM (
      (SELECT drop_off_id, accepted_g - assigned_g AS left_g, false AS received FROM drop_off_now
       WHERE site_id = ANY($4::uuid[]) AND occurred_at <= $5 AND NOT voided OFFSET 0)
      UNION ALL
      (SELECT r.drop_off_id, r.accepted_g - r.assigned_g, true
       FROM lot_on_haul went JOIN drop_off_now r ON r.drop_off_id = went.drop_off_id
       WHERE went.to_site_id = $6 AND went.received_at <= $7
         AND (went.haul_id = ANY($8::uuid[]) OR $6 = ANY($4) OR r.site_id = ANY($4))
         AND r.occurred_at <= $5 AND NOT r.voided OFFSET 0)) AS lot
    WHERE lot.left_g > 0
      AND (lot.received OR NOT EXISTS (SELECT FROM lot_on_haul went WHERE went.drop_off_id = lot.drop_off_id))
    ORDER BY lot.drop_off_id
    RETURNING mass_g)
  SELECT count(*)::int AS lots, coalesce(sum(mass_g), 0)::bigint AS "massG" FROM assigned`;

@Injectable()
export class AssignmentsRecords {
  constructor(private readonly database: Database) {}

  /**
   * Whoever moves or assigns lots lying at these sites next waits until this is committed, so that two yards that empty one
   * hub at the same moment share it out instead of one of them failing. Intake does not wait.
   */
  async lockLotsAt(sql: Sql, siteIds: readonly string[]): Promise<void> {
    await sql.query('SELECT lock_lots_at($1::uuid[])', [siteIds]);
  }

  async hauls(ids: readonly string[]): Promise<Map<string, HaulOfLots>> {
    const rows = await this.database.sql.query<HaulOfLots>(HAULS, [ids]);
    return new Map(rows.map((row) => [row.id, row]));
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

  /**
   * Everything that is left, up to a time, of what lies at these sites or of what the yard received from them or with these
   * hauls; `receivedBy` is the latest receipt that counts.
   */
  async insertAllUnassigned(
    sql: Sql,
    into: Assigning,
    from: From,
    { upTo, receivedBy }: { upTo: Date; receivedBy: Date },
  ): Promise<Assigned> {
    const siteIds = 'siteIds' in from ? from.siteIds : [];
    const haulIds = 'haulIds' in from ? from.haulIds : [];
    const values = [
      into.batchId,
      into.occurredAt,
      into.personId,
      siteIds,
      upTo,
      into.yardId,
      receivedBy,
      haulIds,
    ];
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
