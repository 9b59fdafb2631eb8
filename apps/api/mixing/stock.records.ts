import { Injectable } from '@nestjs/common';
import { Database } from '#libs/database';
import type { Mass, Volume } from '#libs/quantities';
import type { Actor } from '../http/access/actor.js';
import { AuditedStatement } from '../http/writes/audit.records.js';
import { Work } from '../http/writes/work.js';
import type { StockBasis } from './stock.dto.js';

export interface StockAmount {
  basis: StockBasis;
  /** Null where only a volume was told and no density is known. */
  massG: number | null;
  volumeMl: number | null;
  densityKgM3: number | null;
  densitySource: string | null;
  containerId: string | null;
  containerCount: number | null;
  entered: { mass?: Mass; volume?: Volume; containerId?: string; count?: number };
}

export interface NewStockCount extends StockAmount {
  id: string;
  siteId: string;
  materialCode: string;
  occurredAt: Date;
  costPerKg: number | null;
  note: string | null;
  bodySha256: Buffer;
}

export interface StockCountRow extends NewStockCount {
  containerCode: string | null;
  recordedAt: Date;
  recordedBy: string;
  voidedAt: Date | null;
  voidReason: string | null;
}

/** What lies at a yard of one material: the latest count that stands, and what was taken from it since. */
export interface StockLine {
  materialCode: string;
  name: string;
  retired: boolean;
  countId: string;
  countedAt: Date;
  basis: StockBasis;
  massG: number | null;
  volumeMl: number | null;
  densityKgM3: number | null;
  /** What was taken since; of it the part that was weighed, and the volume that was seen of the rest. */
  usedG: number;
  usedWeighedG: number;
  usedSeenMl: number;
  /** That it was last counted in, while its volume is known. */
  containerId: string | null;
  containerCode: string | null;
  containerMl: number | null;
  costPerKg: number | null;
}

export interface StockCountFilter {
  /** Sites that may be seen; null for all. */
  siteIds: string[] | null;
  material: string | null;
  limit: number;
  after: { occurredAt: string; id: string } | null;
}

const KEEP = new AuditedStatement<{ id: string }>({
  name: 'stock-count-keep',
  action: 'stock-count.recorded',
  subjectKind: 'stock-count',
  writes: `
    kept AS (
      INSERT INTO stock_count (recorded_by, id, site_id, material_code, occurred_at, basis, mass_g, volume_ml,
        density_kg_m3, density_source, container_id, container_count, cost_per_kg, note, entered, body_sha256)
      VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11, $12, $13, $14, $15, $16)
      ON CONFLICT (id) DO NOTHING RETURNING id, site_id, material_code, mass_g, volume_ml),
    written AS (
      SELECT id AS subject_id, site_id,
        jsonb_build_object('material', material_code, 'massG', mass_g, 'volumeMl', volume_ml) AS detail FROM kept)`,
  answers: 'SELECT id FROM kept',
});

const VOID = new AuditedStatement<{ id: string }>({
  name: 'stock-count-void',
  action: 'stock-count.voided',
  subjectKind: 'stock-count',
  writes: `
    kept AS (
      UPDATE stock_count SET voided_at = now(), voided_by = $1, void_reason = $3
      WHERE id = $2 AND voided_at IS NULL RETURNING id, site_id, void_reason),
    written AS (SELECT id AS subject_id, site_id, jsonb_build_object('reason', void_reason) AS detail FROM kept)`,
  answers: 'SELECT id FROM kept',
});

const COUNTS = `
  SELECT c.id, c.site_id AS "siteId", c.material_code AS "materialCode", c.occurred_at AS "occurredAt", c.basis,
    c.mass_g AS "massG", c.volume_ml AS "volumeMl", c.density_kg_m3 AS "densityKgM3",
    c.density_source AS "densitySource", c.container_id AS "containerId", k.code AS "containerCode",
    c.container_count::float8 AS "containerCount", c.cost_per_kg::float8 AS "costPerKg", c.note, c.entered,
    c.body_sha256 AS "bodySha256", c.recorded_at AS "recordedAt", c.recorded_by AS "recordedBy",
    c.voided_at AS "voidedAt", c.void_reason AS "voidReason"
  FROM stock_count c LEFT JOIN container k ON k.id = c.container_id`;

const PAGE = `${COUNTS}
  WHERE ($1::uuid[] IS NULL OR c.site_id = ANY($1)) AND ($2::text IS NULL OR c.material_code = $2)
    AND ($3::timestamptz IS NULL OR (c.occurred_at, c.id) < ($3, $4::uuid))
  ORDER BY c.occurred_at DESC, c.id DESC LIMIT $5`;

const LATEST_FIRST = 'ORDER BY occurred_at DESC, recorded_at DESC, id DESC';

// Water that is counted is a barrel: what is watered out of it is gone as well. One millilitre is taken as one gram.
const STANDING = `
  WITH counted AS (
    SELECT material_code, max(occurred_at) AS counted_at, (array_agg(id ${LATEST_FIRST}))[1] AS id,
      (array_agg(container_id ${LATEST_FIRST}) FILTER (WHERE container_id IS NOT NULL))[1] AS container_id,
      (array_agg(cost_per_kg ${LATEST_FIRST}) FILTER (WHERE cost_per_kg IS NOT NULL))[1] AS cost_per_kg
    FROM stock_count WHERE site_id = $1 AND voided_at IS NULL AND occurred_at < coalesce($2, 'infinity'::timestamptz)
    GROUP BY material_code),
  taken AS (
    SELECT a.material_code, a.mass_g::bigint AS mass_g, CASE a.basis WHEN 'volume' THEN a.volume_ml END AS seen_ml,
      a.occurred_at
    FROM batch b JOIN amendment a ON a.batch_id = b.id
    WHERE b.site_id = $1 AND a.voided_at IS NULL AND a.source <> 'overs'
    UNION ALL
    SELECT 'water', w.volume_ml, w.volume_ml, w.occurred_at
    FROM batch b JOIN watering w ON w.batch_id = b.id
    WHERE b.site_id = $1 AND w.voided_at IS NULL AND w.volume_ml IS NOT NULL),
  used AS (
    SELECT material_code, sum(mass_g)::bigint AS used_g, sum(seen_ml)::bigint AS seen_ml,
      (sum(mass_g) FILTER (WHERE seen_ml IS NULL))::bigint AS weighed_g
    FROM counted JOIN taken USING (material_code)
    WHERE taken.occurred_at >= counted_at AND taken.occurred_at < coalesce($2, 'infinity'::timestamptz)
    GROUP BY material_code)
  SELECT c.material_code AS "materialCode", m.name, m.retired_at IS NOT NULL AS retired, c.id AS "countId",
    c.occurred_at AS "countedAt", c.basis, c.mass_g AS "massG", c.volume_ml AS "volumeMl",
    c.density_kg_m3 AS "densityKgM3", coalesce(used.used_g, 0) AS "usedG",
    coalesce(used.weighed_g, 0) AS "usedWeighedG", coalesce(used.seen_ml, 0) AS "usedSeenMl",
    k.id AS "containerId", k.code AS "containerCode", k.volume_ml AS "containerMl",
    counted.cost_per_kg::float8 AS "costPerKg"
  FROM counted JOIN stock_count c ON c.id = counted.id JOIN material m ON m.code = c.material_code
    LEFT JOIN used ON used.material_code = c.material_code
    LEFT JOIN container k ON k.id = counted.container_id AND k.volume_ml IS NOT NULL AND k.retired_at IS NULL
  ORDER BY m.name, c.material_code`;

@Injectable()
export class StockRecords {
  constructor(
    private readonly database: Database,
    private readonly work: Work,
  ) {}

  /** False when there was one of that id already. */
  async keep(actor: Actor, count: NewStockCount): Promise<boolean> {
    const { id, siteId, materialCode, occurredAt, basis, massG, volumeMl, densityKgM3, densitySource } =
      count;
    const { containerId, containerCount, costPerKg, note, bodySha256 } = count;
    const what = [id, siteId, materialCode, occurredAt, basis, massG, volumeMl, densityKgM3, densitySource];
    const more = [containerId, containerCount, costPerKg, note, JSON.stringify(count.entered), bodySha256];
    return (await this.work.once(actor, KEEP, [...what, ...more])).length === 1;
  }

  /** False when it was voided already. */
  async void(actor: Actor, id: string, reason: string): Promise<boolean> {
    return (await this.work.once(actor, VOID, [id, reason])).length === 1;
  }

  async find(id: string): Promise<StockCountRow | null> {
    const [row] = await this.database.sql.query<StockCountRow>(
      `${COUNTS} WHERE c.id = $1`,
      [id],
      'stock-count',
    );
    return row ?? null;
  }

  /** The latest first, voided ones included. */
  async page({ siteIds, material, limit, after }: StockCountFilter): Promise<StockCountRow[]> {
    const values = [siteIds, material, after?.occurredAt ?? null, after?.id ?? null, limit + 1];
    return this.database.sql.query<StockCountRow>(PAGE, values, 'stock-counts');
  }

  /** What lay at the yard before a moment (null: what lies there now), material by material, by name. */
  async standing(siteId: string, before: Date | null = null): Promise<StockLine[]> {
    return this.database.sql.query<StockLine>(STANDING, [siteId, before], 'stock-standing');
  }
}
