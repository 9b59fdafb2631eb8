import { Injectable } from '@nestjs/common';
import type { SourceInput } from '#libs/accounting';
import { Database, type Sql } from '#libs/database';
import type { CompostUse, Recipient } from './distributions.dto.js';

/** All overs that one batch gave to another, or all of it at once. */
export interface Link {
  kind: 'overs' | 'merge';
  fromBatchId: string;
  toBatchId: string;
  massG: number;
}

/** A batch as a recall needs it. */
export interface BatchFacts {
  id: string;
  code: string;
  siteId: string;
  siteCode: string;
  siteName: string;
  timeZone: string;
  stage: string;
  onHold: boolean;
  begunAt: Date;
  /** Screened and handed to nobody yet. */
  compostLeftG: number;
  /** Screened out and in no later batch yet. */
  oversLeftG: number;
}

export interface HandedOut {
  id: string;
  /** As on its label. */
  code: string;
  batchId: string;
  occurredAt: Date;
  recipient: Recipient;
  use: CompostUse;
  massG: number;
  volumeMl: number | null;
  note: string | null;
}

export interface LotFacts {
  id: string;
  occurredAt: Date;
  siteId: string;
  siteCode: string;
  siteName: string;
  timeZone: string;
  material: string;
  materialName: string;
  jurisdiction: string;
  depositor: string;
  voided: boolean;
  acceptedG: number;
  assignedG: number;
  /** Who composts it instead, where it went with a haul to somebody else. */
  elsewhere: string | null;
  /** Name of the yard that its haul was for; null where it went with none to a yard. */
  hauledTo: string | null;
  received: boolean;
}

export interface StockFacts {
  code: string;
  name: string;
}

// Each batch once, so that ways that part and meet again do not multiply.
const REACHED = `
  WITH RECURSIVE reached (id) AS (
    SELECT unnest($1::uuid[])
    UNION
    SELECT l.taker_id FROM reached r JOIN batch_link l ON l.giver_id = r.id
  ) SELECT id FROM reached`;

const LED_FROM = `
  WITH RECURSIVE led_from (id) AS (
    SELECT unnest($1::uuid[])
    UNION
    SELECT l.giver_id FROM led_from f JOIN batch_link l ON l.taker_id = f.id
  ) SELECT id FROM led_from`;

const LINKS = `
  SELECT kind, giver_id AS "fromBatchId", taker_id AS "toBatchId", sum(mass_g)::int8 AS "massG"
  FROM batch_link WHERE taker_id = ANY ($1::uuid[]) GROUP BY kind, giver_id, taker_id
  ORDER BY min(occurred_at), giver_id, taker_id`;

const INPUTS = `
  SELECT to_id AS "batchId", coalesce(lot_id::text, 'stock:' || material_code) AS "sourceId", sum(mass_g)::int8 AS "massG"
  FROM mass_flow WHERE to_place = 'batch' AND from_place IN ('site', 'stock') AND to_id = ANY ($1::uuid[])
  GROUP BY 1, 2`;

const BATCHES = `
  SELECT b.id, b.code, s.id AS "siteId", s.code AS "siteCode", s.name AS "siteName", s.time_zone AS "timeZone", b.stage,
    b.occurred_at AS "begunAt",
    EXISTS (SELECT FROM batch_hold h WHERE h.batch_id = b.id AND h.lifted_at IS NULL) AS "onHold",
    (coalesce(made.compost_g, 0) - coalesce((SELECT sum(mass_g) FROM distribution d
       WHERE d.batch_id = b.id AND d.voided_at IS NULL), 0))::int8 AS "compostLeftG",
    (coalesce(made.overs_g, 0) - coalesce((SELECT sum(mass_g) FROM batch_link l
       WHERE l.giver_id = b.id AND l.kind = 'overs'), 0))::int8 AS "oversLeftG"
  FROM batch_now b JOIN site s ON s.id = b.site_id
  LEFT JOIN LATERAL (SELECT sum(compost_g) AS compost_g, sum(overs_g) AS overs_g FROM screening c
    WHERE c.batch_id = b.id AND c.voided_at IS NULL) AS made ON true
  WHERE b.id = ANY ($1::uuid[])`;

const HANDED_OUT = `
  SELECT d.id, b.code || '/' || d.number AS code, d.batch_id AS "batchId", d.occurred_at AS "occurredAt", d.recipient, d.use,
    d.mass_g AS "massG", d.volume_ml AS "volumeMl", d.note
  FROM distribution d JOIN batch b ON b.id = d.batch_id WHERE d.voided_at IS NULL`;

const LOTS = `
  SELECT n.drop_off_id AS id, n.occurred_at AS "occurredAt", s.id AS "siteId", s.code AS "siteCode", s.name AS "siteName",
    s.time_zone AS "timeZone", n.material_code AS material, m.name AS "materialName", j.name AS jurisdiction, n.depositor,
    n.voided, n.accepted_g AS "acceptedG", n.assigned_g AS "assignedG",
    went.elsewhere, yard.name AS "hauledTo", went.receipt_id IS NOT NULL AS received
  FROM drop_off_now n JOIN site s ON s.id = n.site_id JOIN material m ON m.code = n.material_code
  JOIN jurisdiction j ON j.id = n.jurisdiction_id
  LEFT JOIN lot_on_haul went ON went.drop_off_id = n.drop_off_id LEFT JOIN site yard ON yard.id = went.to_site_id
  WHERE n.drop_off_id = ANY ($1::uuid[]) ORDER BY n.occurred_at, n.drop_off_id`;

/** Who gave to whom, read as of one moment. */
@Injectable()
export class TraceRecords {
  constructor(private readonly database: Database) {}

  /** Many reads of one moment. */
  snapshot<T>(work: (sql: Sql) => Promise<T>): Promise<T> {
    return this.database.readSnapshot(work);
  }

  /** The batches that some of a drop-off was put into. */
  async batchesOf(sql: Sql, dropOffId: string): Promise<string[]> {
    const text =
      'SELECT DISTINCT batch_id AS id FROM assignment WHERE drop_off_id = $1 AND voided_at IS NULL';
    const rows = await sql.query<{ id: string }>(text, [dropOffId], 'trace-batches-of');
    return rows.map(({ id }) => id);
  }

  /** The batches given, and every one that anything of them went into. */
  async reached(sql: Sql, batchIds: readonly string[]): Promise<string[]> {
    const rows = await sql.query<{ id: string }>(REACHED, [batchIds], 'trace-reached');
    return rows.map(({ id }) => id);
  }

  /** The batches given, and every one that led into them. */
  async ledFrom(sql: Sql, batchIds: readonly string[]): Promise<string[]> {
    const rows = await sql.query<{ id: string }>(LED_FROM, [batchIds], 'trace-led-from');
    return rows.map(({ id }) => id);
  }

  /** What went into the batches given out of other batches. */
  links(sql: Sql, batchIds: readonly string[]): Promise<Link[]> {
    return sql.query<Link>(LINKS, [batchIds], 'trace-links');
  }

  /** What went into them from outside, water left out. */
  inputs(sql: Sql, batchIds: readonly string[]): Promise<SourceInput[]> {
    return sql.query<SourceInput>(INPUTS, [batchIds], 'trace-inputs');
  }

  batches(sql: Sql, batchIds: readonly string[]): Promise<BatchFacts[]> {
    return sql.query<BatchFacts>(BATCHES, [batchIds], 'trace-batches');
  }

  /** Of these batches, in order of time. */
  handedOut(sql: Sql, batchIds: readonly string[]): Promise<HandedOut[]> {
    const text = `${HANDED_OUT} AND d.batch_id = ANY ($1::uuid[]) ORDER BY d.occurred_at, d.id`;
    return sql.query<HandedOut>(text, [batchIds], 'trace-handed-out');
  }

  /** Null where there is none, or it was voided. */
  async distribution(sql: Sql, id: string): Promise<HandedOut | null> {
    const [row] = await sql.query<HandedOut>(`${HANDED_OUT} AND d.id = $1`, [id], 'trace-distribution');
    return row ?? null;
  }

  /** In order of time. */
  lots(sql: Sql, ids: readonly string[]): Promise<LotFacts[]> {
    return sql.query<LotFacts>(LOTS, [ids], 'trace-lots');
  }

  stock(sql: Sql, codes: readonly string[]): Promise<StockFacts[]> {
    const text = 'SELECT code, name FROM material WHERE code = ANY ($1::text[]) ORDER BY code';
    return sql.query<StockFacts>(text, [codes], 'trace-stock');
  }
}
