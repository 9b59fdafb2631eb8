import { Injectable } from '@nestjs/common';
import { Database, type Sql } from '#libs/database';
export type ImportKind = 'drop-offs' | 'logger-readings';

/** What every kind tells of a file. */
export interface AnyReport {
  counts: object;
}

export interface NewImport<Report extends AnyReport = AnyReport> {
  id: string;
  /** Null where the file was of several sites. */
  siteId: string | null;
  kind: ImportKind;
  fileName: string;
  fileSha256: Buffer;
  settings: object;
  report: Report;
}

export interface ImportRow<Report extends AnyReport> extends NewImport<Report> {
  recordedAt: Date;
  recordedBy: string;
}

/** Without the settings, and of the report only its counts. */
export type ImportLine<Report extends AnyReport> = Omit<ImportRow<Report>, 'settings' | 'report'> & {
  counts: Report['counts'];
};

export interface ImportReach {
  /** Null for every site. */
  siteIds: string[] | null;
  personId: string;
}

const COLUMNS = `id, site_id AS "siteId", kind, file_name AS "fileName", file_sha256 AS "fileSha256",
  recorded_at AS "recordedAt", recorded_by AS "recordedBy"`;

/** Imports of sites within reach, and one's own. */
const REACHED = '($1::uuid[] IS NULL OR site_id = ANY ($1) OR recorded_by = $2)';

@Injectable()
export class ImportsRecords {
  constructor(private readonly database: Database) {}

  /** Of whatever kind: ids are of one row each. */
  async find<Report extends AnyReport>(id: string): Promise<ImportRow<Report> | null> {
    const text = `SELECT ${COLUMNS}, settings, report FROM import WHERE id = $1`;
    const [row] = await this.database.sql.query<ImportRow<Report>>(text, [id]);
    return row ?? null;
  }

  /** The report on a file of a kind, where it is within reach. */
  async report<Report extends AnyReport>(
    kind: ImportKind,
    id: string,
    { siteIds, personId }: ImportReach,
  ): Promise<Report | null> {
    const text = `SELECT report FROM import WHERE ${REACHED} AND id = $3 AND kind = $4`;
    const [row] = await this.database.sql.query<{ report: Report }>(text, [siteIds, personId, id, kind]);
    return row?.report ?? null;
  }

  /** Newest first. */
  page<Report extends AnyReport>(
    kind: ImportKind,
    { siteIds, personId }: ImportReach,
    before: string | null,
    limit: number,
  ): Promise<ImportLine<Report>[]> {
    return this.database.sql.query<ImportLine<Report>>(
      `SELECT ${COLUMNS}, report -> 'counts' AS counts FROM import
       WHERE ${REACHED} AND kind = $5 AND ($3::uuid IS NULL OR id < $3) ORDER BY id DESC LIMIT $4`,
      [siteIds, personId, before, limit + 1, kind],
    );
  }

  /** When this very file was imported before; anywhere, where no reach is given. */
  async earlier(fileSha256: Buffer, reach?: ImportReach): Promise<Date[]> {
    const rows = await this.database.sql.query<{ recordedAt: Date }>(
      `SELECT recorded_at AS "recordedAt" FROM import WHERE ${REACHED} AND file_sha256 = $3 ORDER BY recorded_at`,
      [reach?.siteIds ?? null, reach?.personId ?? null, fileSha256],
    );
    return rows.map(({ recordedAt }) => recordedAt);
  }

  /** False when the id is there already. */
  async insert(sql: Sql, row: NewImport, recordedBy: string): Promise<boolean> {
    const { id, siteId, kind, fileName, fileSha256 } = row;
    const [settings, report] = [JSON.stringify(row.settings), JSON.stringify(row.report)];
    const rows = await sql.query(
      `INSERT INTO import (id, site_id, kind, file_name, file_sha256, settings, report, recorded_by)
       VALUES ($1, $2, $3, $4, $5, $6, $7, $8) ON CONFLICT (id) DO NOTHING RETURNING id`,
      [id, siteId, kind, fileName, fileSha256, settings, report, recordedBy],
    );
    return rows.length === 1;
  }
}
