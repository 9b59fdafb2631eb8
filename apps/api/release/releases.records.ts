import { Injectable } from '@nestjs/common';
import { Database, type Sql } from '#libs/database';
import type { Gate } from '#libs/process';
import type { SqlWrite } from '../http/writes/work.js';

/** A gate as it stood when the release was signed. */
export interface SignedGate extends Gate {
  /** Null where it was not overridden. */
  overrideReason: string | null;
}

/** A signature. */
export interface ReleaseRow {
  batchId: string;
  signedBy: string;
  signedName: string;
  signedAt: Date;
  /** When it was typed in; a signature on paper is older. */
  recordedAt: Date;
  statement: string;
  gates: SignedGate[];
  /** Of the batch record that was signed. */
  seal: string;
}

@Injectable()
export class ReleasesRecords {
  constructor(private readonly database: Database) {}

  async find(batchId: string, sql: Sql = this.database.sql): Promise<ReleaseRow | null> {
    const [row] = await sql.query<ReleaseRow>(
      `SELECT batch_id AS "batchId", signed_by AS "signedBy", signed_name AS "signedName", signed_at AS "signedAt",
         recorded_at AS "recordedAt", statement, gates, seal
       FROM release WHERE batch_id = $1`,
      [batchId],
      'release-find',
    );
    return row ?? null;
  }

  async insert({ sql }: SqlWrite, row: ReleaseRow): Promise<void> {
    await sql.query(
      `INSERT INTO release (batch_id, signed_by, signed_name, signed_at, recorded_at, statement, gates, seal)
       VALUES ($1, $2, $3, $4, $5, $6, $7, $8)`,
      [
        row.batchId,
        row.signedBy,
        row.signedName,
        row.signedAt,
        row.recordedAt,
        row.statement,
        JSON.stringify(row.gates),
        row.seal,
      ],
    );
  }
}
