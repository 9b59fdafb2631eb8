import { Injectable } from '@nestjs/common';
import { Database } from '#libs/database';
import type { Actor } from '../http/access/actor.js';
import { AuditedStatement } from '../http/writes/audit.records.js';
import { Work } from '../http/writes/work.js';
import { type Reach, reaches, reachValues } from './reach.js';

/** What a lot needs to know of its shift. */
export interface ShiftFacts {
  id: string;
  siteId: string;
  openedAt: Date;
  closedAt: Date | null;
  instrumentId: string | null;
}

export interface NewShift {
  id: string;
  siteId: string;
  openedAt: Date;
  instrumentId: string | null;
  note: string | null;
  bodySha256: Buffer;
}

export interface ShiftRow extends NewShift {
  closedAt: Date | null;
  closedBy: string | null;
  countedLots: number | null;
  closingNote: string | null;
  recordedAt: Date;
  recordedBy: string;
  lots: number;
  refusals: number;
  acceptedG: number;
  rejectedG: number;
  estimatedG: number;
}

export interface ShiftFilter {
  siteId: string | null;
  open: boolean | null;
  reach: Reach;
  limit: number;
  after: { openedAt: string; id: string } | null;
}

export interface Closing {
  id: string;
  closedAt: Date;
  countedLots: number;
  note: string | null;
}

const OPEN = new AuditedStatement<{ id: string }>({
  name: 'shift-open',
  action: 'shift.opened',
  subjectKind: 'shift',
  writes: `
    opened AS (
      INSERT INTO shift (id, site_id, opened_at, instrument_id, note, body_sha256, recorded_by)
      VALUES ($2, $3, $4, $5, $6, $7, $1) ON CONFLICT (id) DO NOTHING RETURNING id, site_id),
    written AS (SELECT id AS subject_id, site_id, '{}'::jsonb AS detail FROM opened)`,
  answers: 'SELECT id FROM opened',
});

const CLOSE = new AuditedStatement<{ id: string }>({
  name: 'shift-close',
  action: 'shift.closed',
  subjectKind: 'shift',
  writes: `
    closed AS (
      UPDATE shift SET closed_at = $3, closed_by = $1, counted_lots = $4, closing_note = $5
      WHERE id = $2 AND closed_at IS NULL RETURNING id, site_id, counted_lots),
    written AS (
      SELECT id AS subject_id, site_id, jsonb_build_object('countedLots', counted_lots) AS detail FROM closed)`,
  answers: 'SELECT id FROM closed',
});

const FACTS = `SELECT id, site_id AS "siteId", opened_at AS "openedAt", closed_at AS "closedAt", instrument_id AS "instrumentId"
  FROM shift WHERE id = ANY($1::uuid[])`;

/** Totals are added up for the shifts of `source` alone, which is narrowed first. */
const withTotals = (source: string) => `
  SELECT s.id, s.site_id AS "siteId", s.opened_at AS "openedAt", s.closed_at AS "closedAt", s.closed_by AS "closedBy",
    s.counted_lots AS "countedLots", s.closing_note AS "closingNote", s.instrument_id AS "instrumentId", s.note,
    s.body_sha256 AS "bodySha256", s.recorded_at AS "recordedAt", s.recorded_by AS "recordedBy", lots.*,
    (SELECT count(*) FROM refusal f WHERE f.shift_id = s.id AND f.voided_at IS NULL) AS refusals
  FROM (${source}) AS s CROSS JOIN LATERAL (
    SELECT count(*) AS lots, coalesce(sum(r.accepted_g), 0) AS "acceptedG", coalesce(sum(r.rejected_g), 0) AS "rejectedG",
      coalesce(sum(r.accepted_g) FILTER (WHERE r.basis = 'volume'), 0) AS "estimatedG"
    FROM drop_off d
    JOIN drop_off_revision r ON r.drop_off_id = d.id AND r.superseded_by IS NULL AND NOT r.voided
    WHERE d.shift_id = s.id
  ) AS lots
  ORDER BY s.opened_at DESC, s.id DESC`;

const ONE = withTotals('SELECT * FROM shift WHERE id = $1');

const page = (reach: Reach) =>
  withTotals(`
  SELECT * FROM shift
  WHERE ${reaches(reach, 'site_id', '(closed_at IS NULL OR $3::uuid IN (recorded_by, closed_by))')}
    AND ($4::uuid IS NULL OR site_id = $4)
    AND ($5::boolean IS NULL OR (closed_at IS NULL) = $5)
    AND ($6::timestamptz IS NULL OR (opened_at, id) < ($6, $7::uuid))
  ORDER BY opened_at DESC, id DESC LIMIT $8`);

@Injectable()
export class ShiftsRecords {
  constructor(
    private readonly database: Database,
    private readonly work: Work,
  ) {}

  /** False when there was a shift of that id already. */
  async open(actor: Actor, shift: NewShift): Promise<boolean> {
    const { id, siteId, openedAt, instrumentId, note, bodySha256 } = shift;
    const values = [id, siteId, openedAt, instrumentId, note, bodySha256];
    return (await this.work.once(actor, OPEN, values)).length === 1;
  }

  /** False when it was closed already. */
  async close(actor: Actor, { id, closedAt, countedLots, note }: Closing): Promise<boolean> {
    return (await this.work.once(actor, CLOSE, [id, closedAt, countedLots, note])).length === 1;
  }

  async find(id: string): Promise<ShiftRow | null> {
    const [row] = await this.database.sql.query<ShiftRow>(ONE, [id], 'shift');
    return row ?? null;
  }

  async facts(ids: readonly string[]): Promise<Map<string, ShiftFacts>> {
    if (ids.length === 0) return new Map();
    const rows = await this.database.sql.query<ShiftFacts>(FACTS, [ids], 'shift-facts');
    return new Map(rows.map((row) => [row.id, row]));
  }

  /** Newest first. */
  async page({ siteId, open, reach, limit, after }: ShiftFilter): Promise<ShiftRow[]> {
    const place = [after?.openedAt ?? null, after?.id ?? null];
    // Not prepared: planned for the filters that are there.
    return this.database.sql.query<ShiftRow>(page(reach), [
      ...reachValues(reach),
      siteId,
      open,
      ...place,
      limit + 1,
    ]);
  }
}
