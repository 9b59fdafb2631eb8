import { Injectable } from '@nestjs/common';
import { Database } from '#libs/database';
import type { Actor } from '../http/access/actor.js';
import { AuditedStatement } from '../http/writes/audit.records.js';
import { Work } from '../http/writes/work.js';
import type { ComplaintKind } from './complaints.dto.js';

export interface NewComplaint {
  id: string;
  siteId: string;
  occurredAt: Date;
  kind: ComplaintKind;
  about: string;
  bodySha256: Buffer;
}

export interface ComplaintRow extends NewComplaint {
  recordedAt: Date;
  recordedBy: string;
  voidedAt: Date | null;
  voidReason: string | null;
  /** As JSON gives them: times are text. */
  actions: { id: string; occurredAt: string; done: string; recordedAt: string; recordedBy: string }[];
}

export interface NewComplaintAction {
  id: string;
  complaintId: string;
  occurredAt: Date;
  done: string;
  bodySha256: Buffer;
}

export interface ComplaintFilter {
  /** Null means every site. */
  sites: string[] | null;
  from: Date | null;
  to: Date | null;
  limit: number;
  after: { occurredAt: string; id: string } | null;
}

const KEEP = new AuditedStatement<{ id: string }>({
  name: 'complaint-keep',
  action: 'complaint.recorded',
  subjectKind: 'complaint',
  writes: `
    kept AS (
      INSERT INTO complaint (id, site_id, occurred_at, kind, about, body_sha256, recorded_by)
      VALUES ($2, $3, $4, $5, $6, $7, $1)
      ON CONFLICT (id) DO NOTHING RETURNING id, site_id, kind),
    written AS (SELECT id AS subject_id, site_id, jsonb_build_object('kind', kind) AS detail FROM kept)`,
  answers: 'SELECT id FROM kept',
});

// Nothing is done about what was taken back; the lock holds a void off until the action stands.
const ACT = new AuditedStatement<{ id: string }>({
  name: 'complaint-act',
  action: 'complaint.acted-on',
  subjectKind: 'complaint',
  writes: `
    standing AS (SELECT id, site_id FROM complaint WHERE id = $3 AND voided_at IS NULL FOR SHARE),
    kept AS (
      INSERT INTO complaint_action (id, complaint_id, occurred_at, done, body_sha256, recorded_by)
      SELECT $2::uuid, id, $4::timestamptz, $5, $6::bytea, $1::uuid FROM standing
      ON CONFLICT (id) DO NOTHING RETURNING id, complaint_id),
    written AS (
      SELECT complaint_id AS subject_id, site_id, jsonb_build_object('actionId', kept.id) AS detail
      FROM kept JOIN standing ON standing.id = complaint_id)`,
  answers: 'SELECT id FROM kept',
});

const VOID = new AuditedStatement<{ id: string }>({
  name: 'complaint-void',
  action: 'complaint.voided',
  subjectKind: 'complaint',
  writes: `
    kept AS (
      UPDATE complaint SET voided_at = now(), voided_by = $1, void_reason = $3
      WHERE id = $2 AND voided_at IS NULL RETURNING id, site_id, void_reason),
    written AS (SELECT id AS subject_id, site_id, jsonb_build_object('reason', void_reason) AS detail FROM kept)`,
  answers: 'SELECT id FROM kept',
});

const COMPLAINTS = `SELECT c.id, c.site_id AS "siteId", c.occurred_at AS "occurredAt", c.kind, c.about,
    c.body_sha256 AS "bodySha256", c.recorded_at AS "recordedAt", c.recorded_by AS "recordedBy",
    c.voided_at AS "voidedAt", c.void_reason AS "voidReason",
    (SELECT coalesce(json_agg(json_build_object('id', a.id, 'occurredAt', a.occurred_at, 'done', a.done,
        'recordedAt', a.recorded_at, 'recordedBy', a.recorded_by) ORDER BY a.occurred_at, a.id), '[]')
      FROM complaint_action a WHERE a.complaint_id = c.id) AS actions
  FROM complaint c`;

const PAGE = `${COMPLAINTS}
  WHERE ($1::uuid[] IS NULL OR c.site_id = ANY($1))
    AND ($2::timestamptz IS NULL OR c.occurred_at >= $2) AND ($3::timestamptz IS NULL OR c.occurred_at < $3)
    AND ($4::timestamptz IS NULL OR (c.occurred_at, c.id) < ($4, $5::uuid))
  ORDER BY c.occurred_at DESC, c.id DESC LIMIT $6`;

@Injectable()
export class ComplaintsRecords {
  constructor(
    private readonly database: Database,
    private readonly work: Work,
  ) {}

  /** False when there was one of that id already. */
  async keep(actor: Actor, row: NewComplaint): Promise<boolean> {
    const { id, siteId, occurredAt, kind, about, bodySha256 } = row;
    const values = [id, siteId, occurredAt, kind, about, bodySha256];
    return (await this.work.once(actor, KEEP, values)).length === 1;
  }

  /** False when there was one of that id already, or the complaint is voided. */
  async act(actor: Actor, row: NewComplaintAction): Promise<boolean> {
    const { id, complaintId, occurredAt, done, bodySha256 } = row;
    const values = [id, complaintId, occurredAt, done, bodySha256];
    return (await this.work.once(actor, ACT, values)).length === 1;
  }

  /** False when it was voided already. */
  async void(actor: Actor, id: string, reason: string): Promise<boolean> {
    return (await this.work.once(actor, VOID, [id, reason])).length === 1;
  }

  async find(id: string): Promise<ComplaintRow | null> {
    const query = `${COMPLAINTS} WHERE c.id = $1`;
    const [row] = await this.database.sql.query<ComplaintRow>(query, [id], 'complaint');
    return row ?? null;
  }

  async action(id: string): Promise<Pick<NewComplaintAction, 'complaintId' | 'bodySha256'> | null> {
    const [row] = await this.database.sql.query<Pick<NewComplaintAction, 'complaintId' | 'bodySha256'>>(
      `SELECT complaint_id AS "complaintId", body_sha256 AS "bodySha256" FROM complaint_action WHERE id = $1`,
      [id],
      'complaint-action',
    );
    return row ?? null;
  }

  /** Newest first, voided ones included. */
  async page({ sites, from, to, limit, after }: ComplaintFilter): Promise<ComplaintRow[]> {
    const place = [after?.occurredAt ?? null, after?.id ?? null];
    const values = [sites, from, to, ...place, limit + 1];
    return this.database.sql.query<ComplaintRow>(PAGE, values, 'complaints-page');
  }
}
