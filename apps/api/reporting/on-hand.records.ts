import { Injectable } from '@nestjs/common';
import { Database } from '#libs/database';
import type { BatchNow } from '../batches/batches.service.js';

/** What waits of one material: taken in at the site or received there, and not gone on. */
export interface WaitingLine {
  material: string;
  name: string;
  lots: number;
  massG: number;
  /** Parts of it: on no scale, and weighed with a whole haul. */
  estimatedG: number;
  sharedG: number;
  /** Volume that was seen of the lots, and what the lots weigh of which none was. */
  seenMl: number;
  unseenG: number;
}

export interface RoadLine {
  haulId: string;
  fromSite: string;
  leftAt: Date;
  lots: number;
  massG: number;
}

/** A batch of the yard, with what the records leave of it in each of its places. */
export interface BatchLine {
  batchId: string;
  code: string;
  stage: BatchNow['stage'];
  stageAt: Date;
  inG: number;
  leftG: number;
  mergedOn: boolean;
  oversG: number;
  compostG: number;
  screenedAt: Date | null;
  /** Compost of the screenings of which mass and volume are known. */
  measuredG: number;
  measuredMl: number;
  /** All null where nobody measured its pile. */
  pileAt: Date | null;
  pileMl: number | null;
  pileG: number | null;
  /** It was screened, or another batch merged into it, since that was measured. */
  pileOutdated: boolean;
  inSinceG: number;
  outSinceG: number;
}

export interface OnHandRows {
  waiting: WaitingLine[];
  road: RoadLine[];
  batches: BatchLine[];
}

// $1 is the site, $2 the moment before which a movement counts; null is now, and counts all of them.
const BEFORE = `occurred_at < coalesce($2, 'infinity'::timestamptz)`;

/** What came to a place less what left it. */
const movedAt = (place: string, ids: string): string => `
  SELECT to_id AS id, lot_id, material_code, basis, mass_g FROM mass_flow
  WHERE to_place = '${place}' AND to_id ${ids} AND ${BEFORE}
  UNION ALL
  SELECT from_id, lot_id, material_code, basis, -mass_g FROM mass_flow
  WHERE from_place = '${place}' AND from_id ${ids} AND ${BEFORE}`;

const WAITING = `
  WITH lying AS (
    SELECT lot_id, material_code, basis, sum(mass_g) AS left_g FROM (${movedAt('site', '= $1')}) AS moved
    GROUP BY lot_id, material_code, basis HAVING sum(mass_g) <> 0)
  SELECT lying.material_code AS material, m.name, count(*)::int AS lots, sum(left_g)::bigint AS "massG",
    coalesce(sum(left_g) FILTER (WHERE lying.basis = 'volume'), 0)::bigint AS "estimatedG",
    coalesce(sum(left_g) FILTER (WHERE lying.basis = 'haul'), 0)::bigint AS "sharedG",
    coalesce(round(sum(r.volume_ml * left_g / nullif(r.net_g, 0))), 0)::bigint AS "seenMl",
    coalesce(sum(left_g) FILTER (WHERE r.volume_ml IS NULL), 0)::bigint AS "unseenG"
  FROM lying JOIN material m ON m.code = lying.material_code
    JOIN drop_off_revision r ON r.drop_off_id = lying.lot_id AND r.superseded_by IS NULL
  GROUP BY lying.material_code, m.name ORDER BY m.name, material`;

const ROAD = `
  SELECT h.id AS "haulId", s.code AS "fromSite", h.occurred_at AS "leftAt", count(DISTINCT lot_id)::int AS lots,
    sum(mass_g)::bigint AS "massG"
  FROM (${movedAt('road', 'IN (SELECT id FROM haul WHERE to_site_id = $1)')}) AS moved
    JOIN haul h ON h.id = moved.id JOIN site s ON s.id = h.site_id
  GROUP BY h.id, s.code HAVING sum(mass_g) <> 0 ORDER BY h.occurred_at, h.id`;

const ofYard = (place: string): string =>
  `(SELECT id, sum(mass_g) AS left_g FROM (${movedAt(place, 'IN (SELECT id FROM yard)')}) AS moved GROUP BY id)`;

const BATCHES = `
  WITH yard AS MATERIALIZED (
    SELECT b.id, b.code, now_in.stage, now_in.entered_at
    FROM batch b CROSS JOIN LATERAL (
      SELECT stage, entered_at FROM batch_stage s
      WHERE s.batch_id = b.id AND s.entered_at < coalesce($2, 'infinity'::timestamptz)
      ORDER BY (stage = 'condemned') DESC, stage_rank(stage) DESC LIMIT 1) AS now_in
    WHERE b.site_id = $1),
  flow AS (
    SELECT batch_id, sum(mass_g) FILTER (WHERE direction = 'in') AS in_g, bool_or(kind = 'merged-on') AS merged_on
    FROM batch_flow WHERE batch_id IN (SELECT id FROM yard) AND ${BEFORE} GROUP BY batch_id),
  screened AS (
    SELECT batch_id, max(occurred_at) AS last_at, sum(compost_g) FILTER (WHERE compost_volume_ml IS NOT NULL) AS measured_g,
      sum(compost_volume_ml) AS measured_ml
    FROM screening WHERE batch_id IN (SELECT id FROM yard) AND voided_at IS NULL AND ${BEFORE} GROUP BY batch_id),
  pile AS (
    SELECT DISTINCT ON (batch_id) batch_id, occurred_at, volume_ml, mass_g,
      coalesce(outdated_at < coalesce($2, 'infinity'::timestamptz), false) AS outdated
    FROM pile_measured WHERE batch_id IN (SELECT id FROM yard) AND ${BEFORE}
    ORDER BY batch_id, occurred_at DESC, recorded_at DESC, id DESC)
  SELECT yard.id AS "batchId", yard.code, yard.stage, yard.entered_at AS "stageAt",
    coalesce(flow.in_g, 0)::bigint AS "inG", coalesce(heap.left_g, 0)::bigint AS "leftG",
    coalesce(flow.merged_on, false) AS "mergedOn", coalesce(overs.left_g, 0)::bigint AS "oversG",
    coalesce(compost.left_g, 0)::bigint AS "compostG", screened.last_at AS "screenedAt",
    coalesce(screened.measured_g, 0)::bigint AS "measuredG", coalesce(screened.measured_ml, 0)::bigint AS "measuredMl",
    pile.occurred_at AS "pileAt", pile.volume_ml AS "pileMl", pile.mass_g AS "pileG",
    coalesce(pile.outdated, false) AS "pileOutdated",
    coalesce(since.in_g, 0)::bigint AS "inSinceG", coalesce(since.out_g, 0)::bigint AS "outSinceG"
  FROM yard LEFT JOIN flow ON flow.batch_id = yard.id
    LEFT JOIN ${ofYard('batch')} AS heap ON heap.id = yard.id
    LEFT JOIN ${ofYard('overs')} AS overs ON overs.id = yard.id
    LEFT JOIN ${ofYard('compost')} AS compost ON compost.id = yard.id
    LEFT JOIN screened ON screened.batch_id = yard.id
    LEFT JOIN pile ON pile.batch_id = yard.id
    LEFT JOIN LATERAL (
      SELECT sum(mass_g) FILTER (WHERE direction = 'in') AS in_g, sum(mass_g) FILTER (WHERE direction = 'out') AS out_g
      FROM batch_flow WHERE batch_id = pile.batch_id AND occurred_at > pile.occurred_at AND ${BEFORE}) AS since ON true
  ORDER BY yard.code`;

/** What lies at a site, summed from the movements as they are recorded by now. */
@Injectable()
export class OnHandRecords {
  constructor(private readonly database: Database) {}

  /** All of one moment; with `before`, of what had happened by then. */
  read(siteId: string, before: Date | null): Promise<OnHandRows> {
    const values = [siteId, before];
    return this.database.readSnapshot(async (sql) => ({
      waiting: await sql.query<WaitingLine>(WAITING, values, 'on-hand-waiting'),
      road: await sql.query<RoadLine>(ROAD, values, 'on-hand-road'),
      batches: await sql.query<BatchLine>(BATCHES, values, 'on-hand-batches'),
    }));
  }
}
