import { Injectable } from '@nestjs/common';
import type { HaulWeighings, MassBasis } from '#libs/accounting';
import { Database, type Sql } from '#libs/database';
import type { Actor } from '../http/access/actor.js';
import { AuditedStatement } from '../http/writes/audit.records.js';
import { type SqlWrite, Work } from '../http/writes/work.js';
import type { HaulWeight } from './haul-amount.js';
import type { HaulEntered } from './hauls.dto.js';

export interface HaulContainer {
  containerId: string;
  code: string;
  count: number;
}

export interface ReceiptRow {
  id: string;
  /** JSON has no dates: as the database prints them. */
  occurredAt: string;
  inG: number | null;
  containers: HaulContainer[];
  explanation: string | null;
  note: string | null;
  entered: HaulEntered;
  recordedAt: string;
  recordedBy: string;
}

/** A haul with its lots summed, and the receipt that stands. */
export interface HaulRow extends Omit<HaulWeighings, 'inG'> {
  id: string;
  siteId: string;
  siteCode: string;
  toSiteId: string | null;
  elsewhere: string | null;
  occurredAt: Date;
  note: string | null;
  entered: HaulEntered;
  bodySha256: Buffer;
  recordedAt: Date;
  recordedBy: string;
  voidedAt: Date | null;
  voidedBy: string | null;
  voidReason: string | null;
  containers: HaulContainer[];
  lots: { material: string; basis: MassBasis; lots: number; massG: number }[];
  receipt: ReceiptRow | null;
  explanations: { id: string; explanation: string; recordedAt: string; recordedBy: string }[];
  explained: boolean;
}

export interface NewHaul {
  id: string;
  siteId: string;
  toSiteId: string | null;
  elsewhere: string | null;
  occurredAt: Date;
  weight: HaulWeight;
  note: string | null;
  bodySha256: Buffer;
}

/** What a haul must know of a drop-off. */
export interface LotToHaul {
  id: string;
  siteId: string;
  occurredAt: Date;
  voided: boolean;
  assignedG: number;
  haulId: string | null;
}

export interface HaulFilter {
  siteId: string | null;
  /** Sites whose hauls out, and whose hauls in, one may see; null is every site. */
  hubs: string[] | null;
  yards: string[] | null;
  open: boolean;
  limit: number;
  after: { occurredAt: string; id: string } | null;
}

const containersOf = (table: string, key: string, of: string) => `
  (SELECT coalesce(json_agg(json_build_object('containerId', c.id, 'code', c.code, 'count', x.count) ORDER BY c.code), '[]')
   FROM ${table} x JOIN container c ON c.id = x.container_id WHERE x.${key} = ${of})`;

// A lot weighs on the road what it did then: what is pulled out of it at the yard is part of that. The lots of a haul are
// read once for all its sums.
const HAUL = `
  SELECT h.id, h.site_id AS "siteId", s.code AS "siteCode", h.to_site_id AS "toSiteId", h.elsewhere,
    h.occurred_at AS "occurredAt", h.out_g AS "outG", h.note, h.entered, h.body_sha256 AS "bodySha256",
    h.recorded_at AS "recordedAt", h.recorded_by AS "recordedBy", h.voided_at AS "voidedAt", h.voided_by AS "voidedBy",
    h.void_reason AS "voidReason", ${containersOf('haul_container', 'haul_id', 'h.id')} AS containers,
    went.lots, went."weighedG", went."weighedLots", went."sharedG", went."sharedLots", went."estimatedLots",
    CASE WHEN p.id IS NOT NULL THEN json_build_object('id', p.id, 'occurredAt', p.occurred_at, 'inG', p.in_g,
      'containers', ${containersOf('haul_receipt_container', 'receipt_id', 'p.id')}, 'explanation', p.explanation,
      'note', p.note, 'entered', p.entered, 'recordedAt', p.recorded_at, 'recordedBy', p.recorded_by) END AS receipt,
    told.explanations, p.explanation IS NOT NULL OR told.counting > 0 AS explained
  FROM haul h JOIN site s ON s.id = h.site_id
  LEFT JOIN haul_receipt p ON p.haul_id = h.id AND p.voided_at IS NULL
  CROSS JOIN LATERAL (
    WITH lot AS (
      SELECT r.material_code, r.basis, r.accepted_g, r.net_g - (
          SELECT x.rejected_g FROM drop_off_revision x
          WHERE x.drop_off_id = r.drop_off_id AND (x.recorded_at <= coalesce(p.recorded_at, h.recorded_at) OR x.revision = 1)
          ORDER BY x.revision DESC LIMIT 1) AS travelled_g
      FROM haul_lot l JOIN drop_off_revision r ON r.drop_off_id = l.drop_off_id AND r.superseded_by IS NULL AND NOT r.voided
      WHERE l.haul_id = h.id)
    SELECT
      (SELECT coalesce(json_agg(json_build_object('material', material_code, 'basis', basis, 'lots', lots, 'massG', mass_g)
          ORDER BY material_code, basis), '[]')
        FROM (SELECT material_code, basis, count(*) AS lots, sum(accepted_g) AS mass_g FROM lot GROUP BY 1, 2) AS sums) AS lots,
      coalesce(sum(travelled_g) FILTER (WHERE basis = 'scale'), 0)::bigint AS "weighedG",
      count(*) FILTER (WHERE basis = 'scale') AS "weighedLots",
      coalesce(sum(travelled_g) FILTER (WHERE basis = 'haul'), 0)::bigint AS "sharedG",
      count(*) FILTER (WHERE basis = 'haul') AS "sharedLots",
      count(*) FILTER (WHERE basis = 'volume' AND accepted_g > 0) AS "estimatedLots"
    FROM lot) AS went
  CROSS JOIN LATERAL (
    SELECT coalesce(json_agg(json_build_object('id', e.id, 'explanation', e.explanation, 'recordedAt', e.recorded_at,
        'recordedBy', e.recorded_by) ORDER BY e.recorded_at, e.id), '[]') AS explanations,
      count(*) FILTER (WHERE e.recorded_at >= p.recorded_at OR p.id IS NULL) AS counting
    FROM haul_explanation e WHERE e.haul_id = h.id) AS told`;

// As haulDifferences tells it: beyond what rounding each figure to grams explains.
const DIFFERS = `(
  abs(p.in_g - h.out_g) > 1 OR (went."estimatedLots" = 0
    AND abs(coalesce(p.in_g, h.out_g) - went."weighedG" - went."sharedG") * 2 > went."weighedLots" + 1))`;

const PAGE = `${HAUL}
  WHERE ($1::uuid IS NULL OR $1 IN (h.site_id, h.to_site_id))
    AND (h.site_id = ANY($2::uuid[]) OR $2 IS NULL OR h.to_site_id = ANY($3::uuid[]) OR $3 IS NULL)
    AND (NOT $4::boolean OR (h.voided_at IS NULL AND (
      (p.id IS NULL AND h.to_site_id IS NOT NULL) OR (p.explanation IS NULL AND told.counting = 0 AND ${DIFFERS}))))
    AND ($5::timestamptz IS NULL OR (h.occurred_at, h.id) < ($5, $6::uuid))
  ORDER BY h.occurred_at DESC, h.id DESC LIMIT $7`;

const INSERT = `
  INSERT INTO haul (id, site_id, to_site_id, elsewhere, occurred_at, out_g, note, entered, body_sha256, recorded_by)
  VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10) ON CONFLICT (id) DO NOTHING RETURNING id`;

const LOTS = `
  SELECT r.drop_off_id AS id, r.site_id AS "siteId", r.occurred_at AS "occurredAt", r.voided, r.assigned_g AS "assignedG",
    went.haul_id AS "haulId"
  FROM drop_off_now r LEFT JOIN lot_on_haul went ON went.drop_off_id = r.drop_off_id
  WHERE r.drop_off_id = ANY($1::uuid[])`;

// OFFSET 0 keeps the sum over each lot's assignments from being looked up once for every mention of it.
const TAKE_ALL = `
  WITH taken AS (
    INSERT INTO haul_lot (haul_id, drop_off_id)
    SELECT $1, lot.drop_off_id
    FROM (SELECT drop_off_id, accepted_g, assigned_g FROM drop_off_now
          WHERE site_id = $2 AND occurred_at <= $3 AND NOT voided OFFSET 0) AS lot
    WHERE lot.assigned_g = 0 AND lot.accepted_g > 0
      AND NOT EXISTS (SELECT FROM lot_on_haul went WHERE went.drop_off_id = lot.drop_off_id)
    ORDER BY lot.drop_off_id
    RETURNING drop_off_id)
  SELECT count(*)::int AS lots FROM taken`;

const VOID = new AuditedStatement<{ id: string }>({
  name: 'haul-void',
  action: 'haul.voided',
  subjectKind: 'haul',
  writes: `
    kept AS (
      UPDATE haul SET voided_at = now(), voided_by = $1, void_reason = $3
      WHERE id = $2 AND voided_at IS NULL RETURNING id, site_id, void_reason),
    written AS (SELECT id AS subject_id, site_id, jsonb_build_object('reason', void_reason) AS detail FROM kept)`,
  answers: 'SELECT id FROM kept',
});

const EXPLAIN = new AuditedStatement<{ id: string }>({
  name: 'haul-explain',
  action: 'haul.explained',
  subjectKind: 'haul',
  writes: `
    kept AS (
      INSERT INTO haul_explanation (id, haul_id, explanation, body_sha256, recorded_by) VALUES ($2, $3, $4, $5, $1)
      ON CONFLICT (id) DO NOTHING RETURNING haul_id, explanation),
    written AS (
      SELECT kept.haul_id AS subject_id, h.site_id, jsonb_build_object('explanation', kept.explanation) AS detail
      FROM kept JOIN haul h ON h.id = kept.haul_id)`,
  answers: 'SELECT haul_id AS id FROM kept',
});

@Injectable()
export class HaulsRecords {
  constructor(
    private readonly database: Database,
    private readonly work: Work,
  ) {}

  /** Others that move or assign lots lying at these sites wait until this is committed. */
  async lockLotsAt(sql: Sql, siteIds: readonly string[]): Promise<void> {
    await sql.query('SELECT lock_lots_at($1::uuid[])', [siteIds]);
  }

  async find(id: string, sql: Sql = this.database.sql): Promise<HaulRow | null> {
    const [row] = await sql.query<HaulRow>(`${HAUL} WHERE h.id = $1`, [id], 'haul');
    return row ?? null;
  }

  /** The latest first, by when it left. */
  async page({ siteId, hubs, yards, open, limit, after }: HaulFilter): Promise<HaulRow[]> {
    const place = [after?.occurredAt ?? null, after?.id ?? null];
    return this.database.sql.query<HaulRow>(PAGE, [siteId, hubs, yards, open, ...place, limit + 1]);
  }

  /** False when there is one of that id already. */
  async insert({ sql, actor }: SqlWrite, haul: NewHaul): Promise<boolean> {
    const { id, siteId, toSiteId, elsewhere, occurredAt, weight, note, bodySha256 } = haul;
    const values = [
      id,
      siteId,
      toSiteId,
      elsewhere,
      occurredAt,
      weight.massG,
      note,
      JSON.stringify(weight.entered),
    ];
    const rows = await sql.query(INSERT, [...values, bodySha256, actor.personId]);
    if (rows.length === 0) return false;
    await sql.query(
      `INSERT INTO haul_container (haul_id, container_id, count)
       SELECT $1, "containerId", count FROM jsonb_to_recordset($2::jsonb) AS c("containerId" uuid, count int) WHERE count > 0`,
      [id, JSON.stringify(weight.containers)],
    );
    return true;
  }

  async lots(sql: Sql, ids: readonly string[]): Promise<Map<string, LotToHaul>> {
    const rows = await sql.query<LotToHaul>(LOTS, [ids]);
    return new Map(rows.map((row) => [row.id, row]));
  }

  async take(sql: Sql, haulId: string, dropOffIds: readonly string[]): Promise<void> {
    await sql.query(
      `INSERT INTO haul_lot (haul_id, drop_off_id) SELECT $1, id FROM unnest($2::uuid[]) AS id ORDER BY id`,
      [haulId, dropOffIds],
    );
  }

  /** Takes every lot of the hub that waits whole, up to a time; answers how many those are. */
  async takeAllWaiting(sql: Sql, haulId: string, siteId: string, upTo: Date): Promise<number> {
    const [taken] = await sql.query<{ lots: number }>(TAKE_ALL, [haulId, siteId, upTo]);
    return taken?.lots ?? 0;
  }

  /** False when it was voided already. */
  async void(actor: Actor, id: string, reason: string): Promise<boolean> {
    return (await this.work.once(actor, VOID, [id, reason])).length === 1;
  }

  /** False when there is one of that id already. */
  async explain(
    actor: Actor,
    haulId: string,
    id: string,
    explanation: string,
    sha256: Buffer,
  ): Promise<boolean> {
    return (await this.work.once(actor, EXPLAIN, [id, haulId, explanation, sha256])).length === 1;
  }

  async explanation(id: string): Promise<{ haulId: string; bodySha256: Buffer } | null> {
    const [row] = await this.database.sql.query<{ haulId: string; bodySha256: Buffer }>(
      'SELECT haul_id AS "haulId", body_sha256 AS "bodySha256" FROM haul_explanation WHERE id = $1',
      [id],
    );
    return row ?? null;
  }
}
