import { Injectable } from '@nestjs/common';
import { Database, type Sql } from '#libs/database';
import type { Mass, Volume } from '#libs/quantities';

export interface ExportedLot {
  id: string;
  siteId: string;
  siteCode: string;
  siteName: string;
  occurredAt: Date;
  /** On the site's own clock, "2026-05-02 09:30:00". */
  localTime: string;
  material: string;
  jurisdiction: string;
  depositor: string;
  basis: string;
  entered: { weight?: { gross?: Mass; tare?: Mass; net?: Mass }; volume?: Volume };
  grossG: number | null;
  tareG: number | null;
  netG: number;
  rejectedG: number;
  acceptedG: number;
  assignedG: number;
  volumeMl: number | null;
  densityKgM3: number | null;
  densitySource: string | null;
  container: string | null;
  scale: string | null;
  warnings: { code: string }[];
  note: string | null;
  importId: string | null;
  revision: number;
  recordedAt: Date;
  recordedBy: string;
}

export interface ExportFilter {
  /** Null for every site. */
  siteIds: string[] | null;
  /** Local days, `to` excluded; null leaves that end open. */
  from: string | null;
  to: string | null;
}

const PAGE = 1000;

const LOTS = `
  SELECT r.drop_off_id AS id, r.site_id AS "siteId", s.code AS "siteCode", s.name AS "siteName",
         r.occurred_at AS "occurredAt",
         to_char(r.occurred_at AT TIME ZONE s.time_zone, 'YYYY-MM-DD HH24:MI:SS') AS "localTime",
         r.material_code AS material, j.name AS jurisdiction, r.depositor, r.basis, r.entered,
         r.gross_g AS "grossG", r.tare_g AS "tareG", r.net_g AS "netG", r.rejected_g AS "rejectedG",
         r.accepted_g AS "acceptedG", r.assigned_g AS "assignedG", r.volume_ml AS "volumeMl",
         r.density_kg_m3::float8 AS "densityKgM3", r.density_source AS "densitySource",
         c.code AS container, i.code AS scale, r.warnings, r.note, r.import_id AS "importId", r.revision,
         r.recorded_at AS "recordedAt", p.display_name AS "recordedBy"
  FROM drop_off_now r
  JOIN site s ON s.id = r.site_id
  JOIN jurisdiction j ON j.id = r.jurisdiction_id
  JOIN person p ON p.id = r.recorded_by
  LEFT JOIN container c ON c.id = r.container_id
  LEFT JOIN instrument i ON i.id = r.instrument_id
  WHERE NOT r.voided AND ($1::uuid[] IS NULL OR r.site_id = ANY ($1))
    AND ($2::timestamp IS NULL OR r.occurred_at >= $2::timestamp AT TIME ZONE s.time_zone)
    AND ($3::timestamp IS NULL OR r.occurred_at < $3::timestamp AT TIME ZONE s.time_zone)
    AND ($4::uuid IS NULL OR (r.site_id, r.occurred_at, r.drop_off_id) > ($4, $5::timestamptz, $6::uuid))
  ORDER BY r.site_id, r.occurred_at, r.drop_off_id LIMIT ${PAGE}`;

@Injectable()
export class ExportsRecords {
  constructor(private readonly database: Database) {}

  /** Hands the lots of one moment to `use`, by site and time, however many there are: read page by page. */
  lots<T>(filter: ExportFilter, use: (lots: AsyncIterable<ExportedLot>) => Promise<T>): Promise<T> {
    return this.database.readSnapshot((sql) => use(pages(sql, filter)));
  }
}

async function* pages(
  sql: Sql,
  { siteIds, from, to }: ExportFilter,
): AsyncGenerator<ExportedLot, void, undefined> {
  let last: ExportedLot | undefined;
  do {
    const after = [last?.siteId ?? null, last?.occurredAt ?? null, last?.id ?? null];
    const page = await sql.query<ExportedLot>(LOTS, [siteIds, from, to, ...after]);
    yield* page;
    last = page.length < PAGE ? undefined : page.at(-1);
  } while (last);
}
