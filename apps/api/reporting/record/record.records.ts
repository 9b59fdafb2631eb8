import { Injectable } from '@nestjs/common';
import { Database, type Sql } from '#libs/database';
import type { Mass, Volume } from '#libs/quantities';

/** What went into a batch through drop-offs, of one material, hub or jurisdiction, or (all null) altogether. */
export interface IntakeGroup {
  material: string | null;
  materialName: string | null;
  siteCode: string | null;
  siteName: string | null;
  jurisdiction: string | null;
  lots: number;
  massG: number;
  /** Weighed with a whole haul, and shared back. */
  sharedG: number;
  estimatedG: number;
  firstAt: Date;
  lastAt: Date;
  densitySources: string[];
}

/** A reject pulled from a lot that is in the batch, whole or in part. */
export interface PulledRow {
  contaminant: string;
  wentTo: string;
  massG: number;
  acceptedG: number;
  /** Everything of the lot that is in batches; `own` is in this one. */
  parts: { own: boolean; massG: number }[];
}

export interface AmendmentRow {
  occurredAt: Date;
  material: string;
  name: string;
  source: 'stock' | 'overs' | 'water';
  fromBatch: string | null;
  massG: number;
  basis: 'scale' | 'volume';
  densitySource: string | null;
  entered: { mass?: Mass; volume?: Volume };
}

/** Names behind ids: initials of whoever wrote something down, codes of thermometers, names of materials. */
export interface Names {
  people: Map<string, string>;
  instruments: Map<string, string>;
  materials: Map<string, string>;
  /** Who carried the batch from bay to bay, by the stay it began. */
  movers: Map<string, string>;
}

const INTAKE = `
  WITH lots AS (
    SELECT drop_off_id, sum(mass_g) AS mass_g FROM assignment
    WHERE batch_id = $1 AND voided_at IS NULL GROUP BY drop_off_id
  )
  SELECT m.code AS material, m.name AS "materialName", s.code AS "siteCode", s.name AS "siteName", j.name AS jurisdiction,
         count(*) AS lots, sum(lots.mass_g)::bigint AS "massG",
         coalesce(sum(lots.mass_g) FILTER (WHERE r.basis = 'haul'), 0)::bigint AS "sharedG",
         coalesce(sum(lots.mass_g) FILTER (WHERE r.basis = 'volume'), 0)::bigint AS "estimatedG",
         min(r.occurred_at) AS "firstAt", max(r.occurred_at) AS "lastAt",
         coalesce(array_agg(DISTINCT r.density_source) FILTER (WHERE r.basis = 'volume'), '{}') AS "densitySources"
  FROM lots
  JOIN drop_off_revision r ON r.drop_off_id = lots.drop_off_id AND r.superseded_by IS NULL
  JOIN material m ON m.code = r.material_code
  JOIN site s ON s.id = r.site_id
  JOIN jurisdiction j ON j.id = r.jurisdiction_id
  GROUP BY GROUPING SETS ((m.code, m.name), (s.code, s.name), (j.name), ())
  HAVING count(*) > 0
  ORDER BY m.code, s.code, j.name`;

const PULLED = `
  SELECT x.contaminant, x.went_to AS "wentTo", x.mass_g AS "massG", r.accepted_g AS "acceptedG",
         json_agg(json_build_object('own', a.batch_id = $1, 'massG', a.mass_g) ORDER BY a.id) AS parts
  FROM drop_off_reject x
  JOIN drop_off_revision r ON r.drop_off_id = x.drop_off_id AND r.revision = x.revision AND r.superseded_by IS NULL
  JOIN assignment a ON a.drop_off_id = x.drop_off_id AND a.voided_at IS NULL
  WHERE x.drop_off_id IN (SELECT drop_off_id FROM assignment WHERE batch_id = $1 AND voided_at IS NULL)
  GROUP BY x.drop_off_id, x.revision, x.line, r.accepted_g
  ORDER BY x.drop_off_id, x.line`;

const AMENDMENTS = `
  SELECT a.occurred_at AS "occurredAt", a.material_code AS material, m.name, a.source, giver.code AS "fromBatch",
         a.mass_g AS "massG", a.basis, a.density_source AS "densitySource", a.entered
  FROM amendment a JOIN material m ON m.code = a.material_code LEFT JOIN batch giver ON giver.id = a.from_batch_id
  WHERE a.batch_id = $1 AND a.voided_at IS NULL
  ORDER BY a.occurred_at, a.id`;

const PEOPLE = `
  SELECT id, display_name AS name FROM person WHERE id IN (
    ${['batch_check', 'turn', 'watering', 'bay_stay', 'sample', 'screening', 'pile_measurement']
      .map((kept) => `SELECT recorded_by FROM ${kept} WHERE batch_id = $1`)
      .join(' UNION ')})`;

const INSTRUMENTS = `
  SELECT DISTINCT i.id, i.code AS name FROM batch_check c
  JOIN check_reading r ON r.check_id = c.id JOIN instrument i ON i.id = r.instrument_id
  WHERE c.batch_id = $1`;

const MOVERS = 'SELECT id, recorded_by AS name FROM bay_stay WHERE batch_id = $1';

@Injectable()
export class RecordRecords {
  constructor(private readonly database: Database) {}

  /** Everything that `work` reads is of one moment. */
  snapshot<T>(work: (sql: Sql) => Promise<T>): Promise<T> {
    return this.database.readSnapshot(work);
  }

  intake(sql: Sql, batchId: string): Promise<IntakeGroup[]> {
    return sql.query<IntakeGroup>(INTAKE, [batchId], 'record-intake');
  }

  pulled(sql: Sql, batchId: string): Promise<PulledRow[]> {
    return sql.query<PulledRow>(PULLED, [batchId], 'record-pulled');
  }

  amendments(sql: Sql, batchId: string): Promise<AmendmentRow[]> {
    return sql.query<AmendmentRow>(AMENDMENTS, [batchId], 'record-amendments');
  }

  async names(sql: Sql, batchId: string): Promise<Names> {
    const named = async (text: string, values: readonly unknown[]) =>
      new Map(
        (await sql.query<{ id: string; name: string }>(text, values)).map(({ id, name }) => [id, name]),
      );
    return {
      people: await named(PEOPLE, [batchId]),
      instruments: await named(INSTRUMENTS, [batchId]),
      materials: await named('SELECT code AS id, name FROM material', []),
      movers: await named(MOVERS, [batchId]),
    };
  }
}
