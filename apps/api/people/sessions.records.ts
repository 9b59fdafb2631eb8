import { Injectable } from '@nestjs/common';
import { Database, type Sql } from '#libs/database';
import type { Grant } from '../http/access/actor.js';

export interface SessionRow {
  id: string;
  userAgent: string | null;
  createdAt: Date;
  expiresAt: Date;
}

export interface SessionOwner {
  sessionId: string;
  personId: string;
  displayName: string;
  grants: Grant[];
}

// One indexed look-up a request: the session, its person and the roles.
const OWNER = `
  SELECT s.id AS "sessionId", p.id AS "personId", p.display_name AS "displayName",
    coalesce((SELECT jsonb_agg(jsonb_build_object('role', g.role, 'siteId', g.site_id,
                                                  'jurisdictionId', g.jurisdiction_id))
              FROM role_grant g WHERE g.person_id = p.id), '[]') AS grants
  FROM session s JOIN person p ON p.id = s.person_id
  WHERE s.token_hash = $1 AND s.revoked_at IS NULL AND s.expires_at > now() AND p.disabled_at IS NULL`;

@Injectable()
export class SessionsRecords {
  constructor(private readonly database: Database) {}

  async ownerOf(tokenHash: Buffer): Promise<SessionOwner | null> {
    const [row] = await this.database.sql.query<SessionOwner>(OWNER, [tokenHash], 'session-owner');
    return row ?? null;
  }

  async insert(
    sql: Sql,
    session: { id: string; personId: string; tokenHash: Buffer; userAgent: string | null; expiresAt: Date },
  ): Promise<void> {
    await sql.query(
      `INSERT INTO session (id, person_id, token_hash, user_agent, expires_at) VALUES ($1, $2, $3, $4, $5)`,
      [session.id, session.personId, session.tokenHash, session.userAgent, session.expiresAt],
    );
  }

  async openOf(personId: string): Promise<SessionRow[]> {
    return this.database.sql.query<SessionRow>(
      `SELECT id, user_agent AS "userAgent", created_at AS "createdAt", expires_at AS "expiresAt"
       FROM session WHERE person_id = $1 AND revoked_at IS NULL AND expires_at > now()
       ORDER BY created_at DESC, id LIMIT 200`,
      [personId],
    );
  }

  /** True when a session of this person was open under that id. */
  async revoke(sql: Sql, personId: string, id: string): Promise<boolean> {
    const rows = await sql.query(
      `UPDATE session SET revoked_at = now() WHERE id = $1 AND person_id = $2 AND revoked_at IS NULL RETURNING id`,
      [id, personId],
    );
    return rows.length === 1;
  }

  async revokeAll(sql: Sql, personId: string): Promise<void> {
    await sql.query(`UPDATE session SET revoked_at = now() WHERE person_id = $1 AND revoked_at IS NULL`, [
      personId,
    ]);
  }
}
