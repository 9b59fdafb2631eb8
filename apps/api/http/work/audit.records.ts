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
