import { createHash } from 'node:crypto';
import { Injectable } from '@nestjs/common';
import { Database, type Sql } from '#libs/database';
import type { DiversionReport, ReportChange } from '#libs/documents';
import { CHANGES } from './changes-sql.js';
import { HEADING, IN_ORDER, LEADING, LINE, TAKEN } from './rows-sql.js';

/** What a report is of. */
export interface ReportOf {
  jurisdictionId: string;
  /** Local days, `to` excluded. */
  from: string;
  to: string;
  residueTo: string;
}

export interface VersionKey {
  reportId: string;
  version: number;
}

const LINES_A_PIECE = 5_000;

const NOW = `WITH RECURSIVE ${TAKEN} SELECT ${LINE} AS line FROM taken t JOIN site s ON s.id = t.site_id ${IN_ORDER}`;
const KEPT = `SELECT ${LINE} AS line FROM diversion_report_row t JOIN site s ON s.id = t.site_id
  WHERE t.report_id = $1 AND t.version = $2 ${IN_ORDER}`;
const INSERT = `
  INSERT INTO diversion_report_row (report_id, version, kind, source_id, part, revision, occurred_at, site_id,
                                    material_code, basis, from_place, to_place, mass_g)
  SELECT picked.* FROM (WITH RECURSIVE ${TAKEN} SELECT $5::uuid, $6::int, taken.* FROM taken) AS picked`;

const asked = ({ jurisdictionId, from, to, residueTo }: ReportOf) => [jurisdictionId, from, to, residueTo];

/** The movements that a report was made of: as they stand now, and as they stood when it was issued. */
@Injectable()
export class ReportRowsRecords {
  constructor(private readonly database: Database) {}

  async keep(sql: Sql, of: ReportOf, { reportId, version }: VersionKey): Promise<void> {
    await sql.query(INSERT, [...asked(of), reportId, version]);
  }

  /** How many there are now, and the digest of the table they make. Inside a transaction. */
  now(sql: Sql, of: ReportOf): Promise<DiversionReport['rows']> {
    return digestOf(pieces(sql, NOW, asked(of)));
  }

  /** The same of a version, of what is kept. */
  ofVersion(sql: Sql, { reportId, version }: VersionKey): Promise<DiversionReport['rows']> {
    return digestOf(pieces(sql, KEPT, [reportId, version]));
  }

  /** Hands the table of a version to `use`, piece by piece: RFC 4180, whose SHA-256 is the digest in the report. */
  table<T>(
    { reportId, version }: VersionKey,
    use: (pieces: AsyncIterable<string>) => Promise<T>,
  ): Promise<T> {
    return this.database.readSnapshot((sql) => use(table(pieces(sql, KEPT, [reportId, version]))));
  }

  /** What is other now than in a version, line by line. */
  changesSince(sql: Sql, of: ReportOf, { reportId, version }: VersionKey): Promise<ReportChange[]> {
    return sql.query<ReportChange>(CHANGES, [...asked(of), reportId, version, LEADING]);
  }
}

async function* pieces(
  sql: Sql,
  query: string,
  values: readonly unknown[],
): AsyncGenerator<string[], void, undefined> {
  await sql.query(`DECLARE report_rows NO SCROLL CURSOR FOR ${query}`, values);
  for (;;) {
    const rows = await sql.query<{ line: string }>(`FETCH ${LINES_A_PIECE} FROM report_rows`);
    if (rows.length === 0) break;
    yield rows.map(({ line }) => line);
  }
  await sql.query('CLOSE report_rows');
}

async function* table(of: AsyncIterable<string[]>): AsyncGenerator<string, void, undefined> {
  yield `${HEADING}\r\n`;
  for await (const lines of of) yield `${lines.join('\r\n')}\r\n`;
}

async function digestOf(of: AsyncGenerator<string[], void, undefined>): Promise<DiversionReport['rows']> {
  const hash = createHash('sha256');
  let ends = 0;
  for await (const text of table(of)) {
    hash.update(text, 'utf8');
    ends += text.split('\r\n').length - 1;
  }
  return { count: ends - 1, sha256: hash.digest('hex') };
}
