import { Injectable } from '@nestjs/common';
import { Database, type Sql } from '#libs/database';
import type { SqlWrite } from '../http/writes/work.js';

/** What is sealed, and under which name. */
export const sealedKinds = ['batch-record', 'diversion-report'] as const;
export type SealedKind = (typeof sealedKinds)[number];

export interface SealedRow {
  seal: string;
  kind: SealedKind;
  version: number;
  /** Canonical JSON, as it was sealed. */
  document: string;
  sealedAt: Date;
}

const COLUMNS = 'seal, kind, version, document, sealed_at AS "sealedAt"';

@Injectable()
export class SealsRecords {
  constructor(private readonly database: Database) {}

  async find(seal: string, sql: Sql = this.database.sql): Promise<SealedRow | null> {
    const text = `SELECT ${COLUMNS} FROM sealed_document WHERE seal = $1`;
    const [row] = await sql.query<SealedRow>(text, [seal], 'sealed-find');
    return row ?? null;
  }

  /** The newest version. */
  async latest(kind: SealedKind, subjectId: string, sql: Sql = this.database.sql): Promise<SealedRow | null> {
    const [row] = await sql.query<SealedRow>(
      `SELECT ${COLUMNS} FROM sealed_document WHERE kind = $1 AND subject_id = $2
       ORDER BY version DESC LIMIT 1`,
      [kind, subjectId],
      'sealed-latest',
    );
    return row ?? null;
  }

  /** The version it was given; the one it has, when this very document was sealed before. */
  async insert(
    { sql, actor }: SqlWrite,
    sealed: { seal: string; kind: SealedKind; subjectId: string; document: string },
  ): Promise<number> {
    const { seal, kind, subjectId, document } = sealed;
    const [row] = await sql.query<{ version: number }>(
      `WITH given AS (
         INSERT INTO sealed_document (seal, kind, subject_id, version, document, sealed_by)
         SELECT $1, $2, $3::uuid, coalesce(max(version), 0) + 1, $4, $5::uuid
         FROM sealed_document WHERE kind = $2 AND subject_id = $3::uuid
         ON CONFLICT (seal) DO NOTHING
         RETURNING version
       )
       SELECT version FROM given UNION ALL SELECT version FROM sealed_document WHERE seal = $1`,
      [seal, kind, subjectId, document, actor.personId],
    );
    if (!row) throw new Error('a sealed document has no version');
    return row.version;
  }

  /** Seals whose stored document has another digest by now. */
  async altered(): Promise<string[]> {
    const rows = await this.database.sql.query<{ seal: string }>(
      `SELECT seal FROM sealed_document
       WHERE seal <> encode(sha256(convert_to(document, 'UTF8')), 'hex') ORDER BY sealed_at, seal`,
    );
    return rows.map(({ seal }) => seal);
  }

  /** Those of the given seals under which nothing is stored. */
  async absent(seals: readonly string[]): Promise<string[]> {
    const rows = await this.database.sql.query<{ seal: string }>(
      `SELECT given.seal FROM unnest($1::text[]) WITH ORDINALITY AS given (seal, place)
       WHERE NOT EXISTS (SELECT 1 FROM sealed_document kept WHERE kept.seal = given.seal) ORDER BY given.place`,
      [seals],
    );
    return rows.map(({ seal }) => seal);
  }
}
