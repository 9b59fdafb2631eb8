import { Injectable } from '@nestjs/common';
import { Database, type Sql } from '#libs/database';

export interface Period {
  jurisdictionId: string;
  /** Local days, `to` excluded. */
  from: string;
  to: string;
  /** Null for every site. */
  siteIds: string[] | null;
}

/** Whose sums a row holds; one of them is set, or none in the row of the whole. */
export interface Grouped {
  siteId: string | null;
  material: string | null;
  month: string | null;
}

export interface IntakeSums extends Grouped {
  lots: number;
  acceptedG: number;
  estimatedG: number;
  pulledG: number;
}

/** Lots of one kind in a batch. */
export interface LotGroup {
  jurisdictionId: string;
  siteId: string;
  material: string;
  massG: number;
}

/** Residue of one batch in one month, beside all that went into the batch through drop-offs. */
export interface BatchResidue {
  month: string;
  residueG: number;
  lots: LotGroup[];
}

export interface RefusedSums {
  loads: number;
  unweighed: number;
  massG: number;
}

export interface DiversionRows {
  jurisdiction: string | null;
  intake: IntakeSums[];
  residue: BatchResidue[];
  refused: RefusedSums;
  siteNames: { id: string; code: string; name: string }[];
  materialNames: { code: string; name: string }[];
}

/** Sites with the period's bounds on their own clocks, converted once a site and not once a row. */
const PLACES = `
  place AS MATERIALIZED (
    SELECT id, time_zone, jurisdiction_id, $2::timestamp AT TIME ZONE time_zone AS begins,
           $3::timestamp AT TIME ZONE time_zone AS ends
    FROM site
  )`;

/** Within the period at place `p`. The first two bounds are wide, so that an index on the time serves. */
const within = (moment: string): string => `
  ${moment} >= $2::timestamptz - interval '1 day' AND ${moment} < $3::timestamptz + interval '1 day'
  AND ${moment} >= p.begins AND ${moment} < p.ends`;

const INTAKE = `
  WITH ${PLACES}, cells AS (
    SELECT r.site_id, r.material_code, date_trunc('month', r.occurred_at AT TIME ZONE p.time_zone) AS month,
           count(*) AS lots, sum(r.accepted_g) AS accepted_g, sum(r.rejected_g) AS pulled_g,
           coalesce(sum(r.accepted_g) FILTER (WHERE r.basis = 'volume'), 0) AS estimated_g
    FROM drop_off_revision r JOIN place p ON p.id = r.site_id
    WHERE r.jurisdiction_id = $1 AND r.superseded_by IS NULL AND NOT r.voided
      AND ($4::uuid[] IS NULL OR r.site_id = ANY ($4)) AND ${within('r.occurred_at')}
    GROUP BY 1, 2, 3
  )
  SELECT site_id AS "siteId", material_code AS material, to_char(month, 'YYYY-MM') AS month,
         sum(lots)::bigint AS lots, sum(accepted_g)::bigint AS "acceptedG",
         sum(estimated_g)::bigint AS "estimatedG", sum(pulled_g)::bigint AS "pulledG"
  FROM cells GROUP BY GROUPING SETS ((site_id), (material_code), (month), ())
  HAVING count(*) > 0`;

const RESIDUE = `
  WITH ${PLACES}, pulled AS (
    SELECT c.batch_id, to_char(c.occurred_at AT TIME ZONE p.time_zone, 'YYYY-MM') AS month, sum(c.residue_g) AS mass_g
    FROM screening c JOIN batch b ON b.id = c.batch_id JOIN place p ON p.id = b.site_id
    WHERE c.voided_at IS NULL AND c.residue_g > 0 AND ${within('c.occurred_at')}
      AND EXISTS (
        SELECT 1 FROM assignment a
        JOIN drop_off_revision r ON r.drop_off_id = a.drop_off_id AND r.superseded_by IS NULL
        WHERE a.batch_id = c.batch_id AND a.voided_at IS NULL AND r.jurisdiction_id = $1)
    GROUP BY 1, 2
  )
  SELECT pulled.month, pulled.mass_g AS "residueG", groups.lots
  FROM pulled CROSS JOIN LATERAL (
    SELECT json_agg(one ORDER BY one."jurisdictionId", one."siteId", one.material) AS lots
    FROM (
      SELECT r.jurisdiction_id AS "jurisdictionId", r.site_id AS "siteId", r.material_code AS material,
             sum(a.mass_g) AS "massG"
      FROM assignment a JOIN drop_off_revision r ON r.drop_off_id = a.drop_off_id AND r.superseded_by IS NULL
      WHERE a.batch_id = pulled.batch_id AND a.voided_at IS NULL GROUP BY 1, 2, 3
    ) AS one
  ) AS groups`;

const REFUSED = `
  WITH ${PLACES}
  SELECT count(*) AS loads, count(*) FILTER (WHERE f.mass_g IS NULL) AS unweighed,
         coalesce(sum(f.mass_g), 0) AS "massG"
  FROM refusal f JOIN place p ON p.id = f.site_id
  WHERE p.jurisdiction_id = $1 AND f.voided_at IS NULL AND ($4::uuid[] IS NULL OR f.site_id = ANY ($4))
    AND ${within('f.occurred_at')}`;

@Injectable()
export class DiversionRecords {
  constructor(private readonly database: Database) {}

  /** All of one moment. */
  read({ jurisdictionId, from, to, siteIds }: Period): Promise<DiversionRows> {
    const period = [jurisdictionId, from, to];
    const ofSites = [...period, siteIds];
    return this.database.readSnapshot(async (sql) => ({
      jurisdiction: await nameOf(sql, jurisdictionId),
      intake: await sql.query<IntakeSums>(INTAKE, ofSites),
      residue: await sql.query<BatchResidue>(RESIDUE, period),
      refused: (await sql.query<RefusedSums>(REFUSED, ofSites))[0] ?? { loads: 0, unweighed: 0, massG: 0 },
      siteNames: await sql.query('SELECT id, code, name FROM site ORDER BY code'),
      materialNames: await sql.query('SELECT code, name FROM material ORDER BY code'),
    }));
  }
}

async function nameOf(sql: Sql, jurisdictionId: string): Promise<string | null> {
  const [row] = await sql.query<{ name: string }>('SELECT name FROM jurisdiction WHERE id = $1', [
    jurisdictionId,
  ]);
  return row?.name ?? null;
}
