import { Injectable } from '@nestjs/common';
import { Database } from '#libs/database';

export interface Hub {
  siteId: string;
  code: string;
}

export interface ReceivingYard {
  siteId: string;
  /** What it received of other hubs counts as well. */
  fromAnywhere: boolean;
}

/** What waits of one material: accepted, and in no batch yet. */
export interface WaitingLine {
  materialCode: string;
  massG: number;
}

const HUBS = `
  SELECT id AS "siteId", code FROM site
  WHERE takes_drop_offs AND ($1::uuid[] IS NULL OR id = ANY($1)) ORDER BY code`;

// A local day of anywhere lies within a day of the same date in UTC: by that its lots are found by time, and not among all
// of the hub.
const OF_THE_DAY = `NOT r.voided
  AND r.occurred_at >= coalesce($2::date - 1, '-infinity') AND r.occurred_at < coalesce($2::date + 2, 'infinity')
  AND ($2::date IS NULL OR (r.occurred_at AT TIME ZONE s.time_zone)::date = $2)`;

// OFFSET 0 keeps the sum over each lot's assignments from being looked up once for every mention of it. What went with a
// haul waits where it was received.
const WAITING = `
  SELECT lot.material_code AS "materialCode", sum(lot.left_g)::bigint AS "massG"
  FROM (
    (SELECT r.drop_off_id, r.material_code, r.accepted_g - r.assigned_g AS left_g, false AS received
     FROM drop_off_now r JOIN site s ON s.id = r.site_id
     WHERE r.site_id = ANY($1::uuid[]) AND ${OF_THE_DAY} OFFSET 0)
    UNION ALL
    (SELECT r.drop_off_id, r.material_code, r.accepted_g - r.assigned_g, true
     FROM lot_on_haul went JOIN drop_off_now r ON r.drop_off_id = went.drop_off_id JOIN site s ON s.id = r.site_id
     WHERE went.to_site_id = $3 AND went.receipt_id IS NOT NULL AND ($4::boolean OR r.site_id = ANY($1))
       AND ${OF_THE_DAY} OFFSET 0)) AS lot
  WHERE lot.left_g > 0
    AND (lot.received OR NOT EXISTS (SELECT FROM lot_on_haul went WHERE went.drop_off_id = lot.drop_off_id))
  GROUP BY 1 ORDER BY 1`;

@Injectable()
export class WaitingRecords {
  constructor(private readonly database: Database) {}

  /** Those of the sites that take drop-offs, by code; null is every site. */
  async hubs(siteIds: string[] | null): Promise<Hub[]> {
    return this.database.sql.query<Hub>(HUBS, [siteIds], 'hubs-of');
  }

  /**
   * What waits for a yard: lots that lie at these hubs, and those of them, or of all hubs, that the yard received; of one of
   * the hubs' local days ("2026-05-02") or of any.
   */
  async waiting(siteIds: readonly string[], day: string | null, yard: ReceivingYard): Promise<WaitingLine[]> {
    const values = [siteIds, day, yard.siteId, yard.fromAnywhere];
    return this.database.sql.query<WaitingLine>(WAITING, values, 'waiting-lots');
  }
}
