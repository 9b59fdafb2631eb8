import { Injectable } from '@nestjs/common';
import { Database, type Sql } from '#libs/database';
import type { ImportReportDto, ImportSettingsDto } from './imports.dto.js';

export type KeptSettings = ImportSettingsDto & { leaveOut?: number[] };

export interface NewImport {
  id: string;
  /** Null where the file was of several sites. */
  siteId: string | null;
  kind: 'drop-offs';
  fileName: string;
  fileSha256: Buffer;
  settings: KeptSettings;
  report: ImportReportDto;
}

export interface ImportRow extends NewImport {
  recordedAt: Date;
  recordedBy: string;
}

/** Without the settings, and of the report only its counts. */
export type ImportLine = Omit<ImportRow, 'settings' | 'report'> & { counts: ImportReportDto['counts'] };

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

  async find(id: string): Promise<ImportRow | null> {
    const text = `SELECT ${COLUMNS}, settings, report FROM import WHERE id = $1`;
    const [row] = await this.database.sql.query<ImportRow>(text, [id]);
    return row ?? null;
  }

  /** The same, where it is within reach. */
  async findReached(id: string, { siteIds, personId }: ImportReach): Promise<ImportRow | null> {
    const text = `SELECT ${COLUMNS}, settings, report FROM import WHERE ${REACHED} AND id = $3`;
    const [row] = await this.database.sql.query<ImportRow>(text, [siteIds, personId, id]);
    return row ?? null;
  }

  /** Newest first. */
  page({ siteIds, personId }: ImportReach, before: string | null, limit: number): Promise<ImportLine[]> {
    return this.database.sql.query<ImportLine>(
      `SELECT ${COLUMNS}, report -> 'counts' AS counts FROM import
       WHERE ${REACHED} AND ($3::uuid IS NULL OR id < $3) ORDER BY id DESC LIMIT $4`,
      [siteIds, personId, before, limit + 1],
    );
  }

  /** When this very file was imported before. */
  async earlier(fileSha256: Buffer): Promise<Date[]> {
    const rows = await this.database.sql.query<{ recordedAt: Date }>(
      'SELECT recorded_at AS "recordedAt" FROM import WHERE file_sha256 = $1 ORDER BY recorded_at',
      [fileSha256],
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
