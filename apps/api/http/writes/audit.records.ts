import type { Sql } from '#libs/database';

/** One line of the audit trail: what was done to what. Who and when are added where it is written. */
export interface AuditLine {
  /** Thing and past participle: "drop-off.recorded". */
  action: string;
  subjectKind: string;
  subjectId: string | null;
  siteId: string | null;
  detail?: Record<string, unknown>;
}

const INSERT = `
  INSERT INTO audit_event (person_id, action, subject_kind, subject_id, site_id, detail)
  SELECT $1::uuid, line.action, line."subjectKind", line."subjectId", line."siteId", coalesce(line.detail, '{}')
  FROM jsonb_to_recordset($2::jsonb)
    AS line(action text, "subjectKind" text, "subjectId" text, "siteId" uuid, detail jsonb)`;

/** Writes the lines in the transaction of `sql`. */
export async function writeAudit(
  sql: Sql,
  personId: string | null,
  lines: readonly AuditLine[],
): Promise<void> {
  await sql.query(INSERT, [personId, JSON.stringify(lines)], 'write-audit');
}

interface Parts {
  /** Prepared under this name, once a connection. */
  name: string;
  /** CTEs; the one called `written (subject_id, site_id, detail)` gives a row for each thing that was written. */
  writes: string;
  action: string;
  subjectKind: string;
  /** The SELECT that answers, over those CTEs. */
  answers: string;
}

/**
 * One statement that writes rows together with the audit lines that tell of them: one round trip and, run by itself,
 * one transaction. `$1` is who writes; the values given follow as `$2`, `$3` and so on. Rows that were there already
 * (ON CONFLICT DO NOTHING) are not in `written`, and nothing is told of them.
 */
export class AuditedStatement<Row extends object> {
  private readonly name: string;
  private readonly text: string;

  constructor({ name, writes, action, subjectKind, answers }: Parts) {
    this.name = name;
    this.text = `WITH ${writes},
      audited AS (
        INSERT INTO audit_event (person_id, action, subject_kind, subject_id, site_id, detail)
        SELECT $1::uuid, '${action}', '${subjectKind}', subject_id::text, site_id, detail FROM written)
      ${answers}`;
  }

  run(sql: Sql, personId: string, values: readonly unknown[]): Promise<Row[]> {
    return sql.query<Row>(this.text, [personId, ...values], this.name);
  }
}
