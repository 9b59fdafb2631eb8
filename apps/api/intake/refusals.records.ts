import { Injectable } from '@nestjs/common';
import { Database } from '#libs/database';
import type { Mass } from '#libs/quantities';
import type { Actor } from '../http/access/actor.js';
import { AuditedStatement } from '../http/writes/audit.records.js';
import { Work } from '../http/writes/work.js';
import { type Reach, reaches, reachValues } from './reach.js';
import type { Contaminant } from './words.js';

export interface NewRefusal {
  id: string;
  siteId: string;
  shiftId: string | null;
  occurredAt: Date;
  material: string;
  contaminant: Contaminant;
  massG: number | null;
  reason: string;
  entered: { mass?: Mass };
  bodySha256: Buffer;
}

export interface RefusalRow extends NewRefusal {
  recordedAt: Date;
  recordedBy: string;
  voidedAt: Date | null;
  voidedBy: string | null;
  voidReason: string | null;
}

export interface RefusalFilter {
  siteId: string | null;
  shiftId: string | null;
  from: Date | null;
  to: Date | null;
  reach: Reach;
  limit: number;
  after: { occurredAt: string; id: string } | null;
}

const KEEP = new AuditedStatement<{ id: string }>({
  name: 'refusal-keep',
  action: 'refusal.recorded',
  subjectKind: 'refusal',
  writes: `
    kept AS (
      INSERT INTO refusal (id, site_id, shift_id, occurred_at, material_code, contaminant, mass_g, reason, entered,
        body_sha256, recorded_by)
      VALUES ($2, $3, $4, $5, $6, $7, $8, $9, $10, $11, $1)
      ON CONFLICT (id) DO NOTHING RETURNING id, site_id),
    written AS (SELECT id AS subject_id, site_id, '{}'::jsonb AS detail FROM kept)`,
  answers: 'SELECT id FROM kept',
});

const VOID = new AuditedStatement<{ id: string }>({
  name: 'refusal-void',
  action: 'refusal.voided',
  subjectKind: 'refusal',
  writes: `
    kept AS (
      UPDATE refusal SET voided_at = now(), voided_by = $1, void_reason = $3
      WHERE id = $2 AND voided_at IS NULL RETURNING id, site_id, void_reason),
    written AS (SELECT id AS subject_id, site_id, jsonb_build_object('reason', void_reason) AS detail FROM kept)`,
  answers: 'SELECT id FROM kept',
});

const REFUSALS = `SELECT f.id, f.site_id AS "siteId", f.shift_id AS "shiftId", f.occurred_at AS "occurredAt",
    f.material_code AS material, f.contaminant, f.mass_g AS "massG", f.reason, f.entered, f.body_sha256 AS "bodySha256",
    f.recorded_at AS "recordedAt", f.recorded_by AS "recordedBy", f.voided_at AS "voidedAt",
    f.voided_by AS "voidedBy", void_reason AS "voidReason"
  FROM refusal f`;

const IS_OWN = `(f.recorded_by = $3::uuid OR EXISTS (SELECT FROM shift s
  WHERE s.id = f.shift_id AND (s.closed_at IS NULL OR $3::uuid IN (s.recorded_by, s.closed_by))))`;

const page = (reach: Reach) => `${REFUSALS}
  WHERE ${reaches(reach, 'f.site_id', IS_OWN)}
    AND ($4::uuid IS NULL OR f.site_id = $4)
    AND ($5::uuid IS NULL OR f.shift_id = $5)
    AND ($6::timestamptz IS NULL OR f.occurred_at >= $6)
    AND ($7::timestamptz IS NULL OR f.occurred_at < $7)
    AND ($8::timestamptz IS NULL OR (f.occurred_at, f.id) < ($8, $9::uuid))
  ORDER BY f.occurred_at DESC, f.id DESC LIMIT $10`;

@Injectable()
export class RefusalsRecords {
  constructor(
    private readonly database: Database,
    private readonly work: Work,
  ) {}

  /** False when there was one of that id already. */
  async keep(actor: Actor, refusal: NewRefusal): Promise<boolean> {
    const { id, siteId, shiftId, occurredAt, material, contaminant, massG, reason, bodySha256 } = refusal;
    const values = [id, siteId, shiftId, occurredAt, material, contaminant, massG, reason];
    const entered = JSON.stringify(refusal.entered);
    return (await this.work.once(actor, KEEP, [...values, entered, bodySha256])).length === 1;
  }

  /** False when it was voided already. */
  async void(actor: Actor, id: string, reason: string): Promise<boolean> {
    return (await this.work.once(actor, VOID, [id, reason])).length === 1;
  }

  async find(id: string): Promise<RefusalRow | null> {
    const [row] = await this.database.sql.query<RefusalRow>(`${REFUSALS} WHERE f.id = $1`, [id], 'refusal');
    return row ?? null;
  }

  /** Newest first, by when it happened. */
  async page({ siteId, shiftId, from, to, reach, limit, after }: RefusalFilter): Promise<RefusalRow[]> {
    const place = [after?.occurredAt ?? null, after?.id ?? null];
    const values = [...reachValues(reach), siteId, shiftId, from, to, ...place, limit + 1];
    return this.database.sql.query<RefusalRow>(page(reach), values);
  }
}
