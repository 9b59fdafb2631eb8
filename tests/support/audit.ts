import { Database } from '#libs/database';
import type { TestApi } from './api.js';

export interface AuditRow {
  personId: string | null;
  action: string;
  subjectKind: string;
  subjectId: string | null;
  siteId: string | null;
  detail: Record<string, unknown>;
}

/** Lines of the audit trail, of one action, as the database holds them. */
export async function auditOf(api: Pick<TestApi, 'app'>, action: string): Promise<AuditRow[]> {
  return api.app.get(Database).sql.query<AuditRow>(
    `SELECT person_id AS "personId", action, subject_kind AS "subjectKind", subject_id AS "subjectId",
       site_id AS "siteId", detail
     FROM audit_event WHERE action = $1 ORDER BY seq`,
    [action],
  );
}
