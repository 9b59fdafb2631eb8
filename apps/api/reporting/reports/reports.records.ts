import { Injectable } from '@nestjs/common';
import type { ResidueConvention, WasteCategory } from '#libs/accounting';
import { Database, type Sql } from '#libs/database';
import type { Mass } from '#libs/quantities';
import type { SqlWrite } from '../../http/writes/work.js';

/** What is asked for with the municipality's own figures, as it was typed. */
export interface RateAsked {
  formula: string;
  disposed: Mass;
  exported?: Mass;
  imported?: Mass;
  sourceReduced?: Mass;
  otherRecycled?: Mass;
  source: string;
}

export interface ReportSettings {
  residueTo: ResidueConvention;
  rate: RateAsked | null;
  greenhouse: { set: string } | null;
}

export interface ReportRow {
  id: string;
  jurisdictionId: string;
  jurisdiction: string;
  /** Local days, `to` excluded. */
  from: string;
  to: string;
  wholeYear: boolean;
  /** As it is now, of the jurisdiction. */
  reportingYearStart: string;
}

export interface VersionRow {
  version: number;
  seal: string;
  reason: string | null;
  settings: ReportSettings;
  entryId: string;
  bodySha256: Buffer;
  issuedAt: Date;
  issuedBy: string;
}

export interface NewVersion extends Pick<VersionRow, 'version' | 'seal' | 'reason' | 'settings'> {
  reportId: string;
  entry: Entry;
  issuedAt: Date;
}

/** By what it was asked for, so that the same sent again is known. */
export interface Entry {
  id: string;
  bodySha256: Buffer;
}

export interface ReportFilter {
  /** Null for every one. */
  jurisdictionIds: string[] | null;
  /** The first day and id of the last report of the page before. */
  after: (string | number)[] | null;
}

const REPORT = `r.id, r.jurisdiction_id AS "jurisdictionId", j.name AS jurisdiction, r.from_day::text AS from, r.to_day::text AS to,
  r.whole_year AS "wholeYear", j.reporting_year_start AS "reportingYearStart"`;
const OF_REPORT = 'diversion_report r JOIN jurisdiction j ON j.id = r.jurisdiction_id';
const VERSION = `v.version, v.seal, v.reason, v.settings, v.entry_id AS "entryId", v.body_sha256 AS "bodySha256",
  v.issued_at AS "issuedAt", p.display_name AS "issuedBy"`;

@Injectable()
export class ReportsRecords {
  constructor(private readonly database: Database) {}

  /** Everything that `work` reads is of one moment. */
  snapshot<T>(work: (sql: Sql) => Promise<T>): Promise<T> {
    return this.database.readSnapshot(work);
  }

  /**
   * One issue at a time, and each sees what the one before it issued: the lock comes before the transaction's first look, and
   * readers are not held up by it. Whoever waits long gives up (refused as `busy`), and its connection is free again.
   */
  async lock(sql: Sql): Promise<void> {
    await sql.query(`SET LOCAL lock_timeout = '10s'`);
    await sql.query('LOCK TABLE diversion_report IN SHARE ROW EXCLUSIVE MODE');
  }

  page({ jurisdictionIds, after }: ReportFilter, limit: number): Promise<ReportRow[]> {
    return this.database.sql.query<ReportRow>(
      `SELECT ${REPORT} FROM ${OF_REPORT}
       WHERE ($1::uuid[] IS NULL OR r.jurisdiction_id = ANY ($1))
         AND ($2::date IS NULL OR (r.from_day, r.id) < ($2, $3::uuid))
       ORDER BY r.from_day DESC, r.id DESC LIMIT $4`,
      [jurisdictionIds, after?.[0] ?? null, after?.[1] ?? null, limit + 1],
    );
  }

  async find(id: string, sql: Sql = this.database.sql): Promise<ReportRow | null> {
    const [row] = await sql.query<ReportRow>(`SELECT ${REPORT} FROM ${OF_REPORT} WHERE r.id = $1`, [id]);
    return row ?? null;
  }

  /** The report of these very days. */
  async ofPeriod(
    sql: Sql,
    { jurisdictionId, from, to }: Pick<ReportRow, 'jurisdictionId' | 'from' | 'to'>,
  ): Promise<ReportRow | null> {
    const [row] = await sql.query<ReportRow>(
      `SELECT ${REPORT} FROM ${OF_REPORT} WHERE r.jurisdiction_id = $1 AND r.from_day = $2 AND r.to_day = $3`,
      [jurisdictionId, from, to],
    );
    return row ?? null;
  }

  /** A whole year that was reported and shares days with this one. */
  async overlappingYear(
    sql: Sql,
    { jurisdictionId, from, to }: Pick<ReportRow, 'jurisdictionId' | 'from' | 'to'>,
  ): Promise<ReportRow | null> {
    const [row] = await sql.query<ReportRow>(
      `SELECT ${REPORT} FROM ${OF_REPORT}
       WHERE r.jurisdiction_id = $1 AND r.whole_year AND r.from_day < $3 AND r.to_day > $2
       ORDER BY r.from_day LIMIT 1`,
      [jurisdictionId, from, to],
    );
    return row ?? null;
  }

  /** Issued reports of other periods that share days with this one, each in its latest version. */
  overlapping(
    sql: Sql,
    { jurisdictionId, from, to }: Pick<ReportRow, 'jurisdictionId' | 'from' | 'to'>,
  ): Promise<{ from: string; to: string; version: number }[]> {
    return sql.query(
      `SELECT r.from_day::text AS from, r.to_day::text AS to, max(v.version) AS version
       FROM diversion_report r JOIN diversion_report_version v ON v.report_id = r.id
       WHERE r.jurisdiction_id = $1 AND r.from_day < $3 AND r.to_day > $2 AND (r.from_day, r.to_day) <> ($2, $3)
       GROUP BY r.id ORDER BY r.from_day, r.to_day`,
      [jurisdictionId, from, to],
    );
  }

  /** Before that day a site was open, or something was recorded of it. */
  async hadBegun(sql: Sql, day: string): Promise<boolean> {
    const [row] = await sql.query<{ begun: boolean }>(
      `SELECT EXISTS (SELECT FROM site WHERE opened_on < $1)
         OR EXISTS (SELECT FROM mass_flow f JOIN site s ON s.id = f.site_id
                    WHERE f.occurred_at < $1::timestamp AT TIME ZONE s.time_zone)
         OR EXISTS (SELECT FROM refusal r JOIN site s ON s.id = r.site_id
                    WHERE r.voided_at IS NULL AND r.occurred_at < $1::timestamp AT TIME ZONE s.time_zone) AS begun`,
      [day],
    );
    return row?.begun ?? false;
  }

  /** When the day begins at whichever site it begins last; null where there are no sites. */
  async lastBeginning(sql: Sql, day: string): Promise<Date | null> {
    const [row] = await sql.query<{ at: Date | null }>(
      'SELECT max($1::timestamp AT TIME ZONE time_zone) AS at FROM site',
      [day],
    );
    return row?.at ?? null;
  }

  /** The first first. */
  async versions(reportId: string, sql: Sql = this.database.sql): Promise<VersionRow[]> {
    return (await this.versionsOf([reportId], sql)).get(reportId) ?? [];
  }

  /** The same of many reports, by their ids. */
  async versionsOf(
    reportIds: readonly string[],
    sql: Sql = this.database.sql,
  ): Promise<Map<string, VersionRow[]>> {
    const rows = await sql.query<VersionRow & { reportId: string }>(
      `SELECT v.report_id AS "reportId", ${VERSION} FROM diversion_report_version v JOIN person p ON p.id = v.issued_by
       WHERE v.report_id = ANY ($1::uuid[]) ORDER BY v.report_id, v.version`,
      [reportIds],
    );
    return new Map(reportIds.map((id) => [id, rows.filter(({ reportId }) => reportId === id)]));
  }

  /** Which version was made by an entry, of which report; null when none was. */
  async byEntry(
    entryId: string,
    sql: Sql = this.database.sql,
  ): Promise<{ reportId: string; version: number; bodySha256: Buffer } | null> {
    const [row] = await sql.query<{ reportId: string; version: number; bodySha256: Buffer }>(
      `SELECT report_id AS "reportId", version, body_sha256 AS "bodySha256" FROM diversion_report_version
       WHERE entry_id = $1`,
      [entryId],
    );
    return row ?? null;
  }

  async insert({ sql, actor }: SqlWrite, row: ReportRow): Promise<void> {
    await sql.query(
      `INSERT INTO diversion_report (id, jurisdiction_id, from_day, to_day, whole_year, recorded_by)
       VALUES ($1, $2, $3, $4, $5, $6)`,
      [row.id, row.jurisdictionId, row.from, row.to, row.wholeYear, actor.personId],
    );
  }

  async insertVersion({ sql, actor }: SqlWrite, row: NewVersion): Promise<void> {
    await sql.query(
      `INSERT INTO diversion_report_version (report_id, version, seal, reason, settings, entry_id, body_sha256, issued_at, issued_by)
       VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9)`,
      [
        ...[row.reportId, row.version, row.seal, row.reason, JSON.stringify(row.settings)],
        ...[row.entry.id, row.entry.bodySha256, row.issuedAt, actor.personId],
      ],
    );
  }

  /** Every version there is, with the digest over its rows that its sealed document names: null where it names none. */
  issued(): Promise<{ reportId: string; version: number; rows: string | null }[]> {
    return this.database.sql.query(
      `SELECT v.report_id AS "reportId", v.version, d.document::jsonb #>> '{rows,sha256}' AS rows
       FROM diversion_report_version v
       LEFT JOIN sealed_document d ON d.seal = v.seal AND d.kind = 'diversion-report' AND d.subject_id = v.report_id
         AND d.version = v.version
       ORDER BY v.report_id, v.version`,
    );
  }

  /** What each material is to those who count waste; null where nobody has said. */
  async wasteCategories(sql: Sql): Promise<Map<string, WasteCategory | null>> {
    const rows = await sql.query<{ code: string; category: WasteCategory | null }>(
      'SELECT code, waste_category AS category FROM material',
    );
    return new Map(rows.map(({ code, category }) => [code, category]));
  }

  /** Bulk densities by which lots of the period were estimated. `$2` and `$3` reach a day further: a site's own clock. */
  densities(
    sql: Sql,
    { jurisdictionId, from, to }: Pick<ReportRow, 'jurisdictionId' | 'from' | 'to'>,
  ): Promise<{ material: string; densityKgM3: number; source: string }[]> {
    return sql.query(
      `SELECT DISTINCT m.name AS material, r.density_kg_m3::float8 AS "densityKgM3", r.density_source AS source
       FROM drop_off_revision r JOIN site s ON s.id = r.site_id JOIN material m ON m.code = r.material_code
       WHERE r.jurisdiction_id = $1 AND r.superseded_by IS NULL AND NOT r.voided AND r.basis = 'volume'
         AND r.occurred_at >= $2::timestamptz - interval '1 day' AND r.occurred_at < $3::timestamptz + interval '1 day'
         AND r.occurred_at >= $2::timestamp AT TIME ZONE s.time_zone
         AND r.occurred_at < $3::timestamp AT TIME ZONE s.time_zone
       ORDER BY 1, 2, 3`,
      [jurisdictionId, from, to],
    );
  }
}
