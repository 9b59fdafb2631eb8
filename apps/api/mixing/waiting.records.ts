import { Injectable } from '@nestjs/common';
import { Database } from '#libs/database';

export interface Hub {
  siteId: string;
  code: string;
}

/** What waits of one material: accepted, and in no batch yet. */
export interface WaitingLine {
  materialCode: string;
  massG: number;
}

const HUBS = `
  SELECT id AS "siteId", code FROM site
  WHERE takes_drop_offs AND ($1::uuid[] IS NULL OR id = ANY($1)) ORDER BY code`;

// OFFSET 0 keeps the sum over each lot's assignments from being looked up once for every mention of it. A local day of
// anywhere lies within a day of the same date in UTC: by that its lots are found by time, and not among all of the hub.
const WAITING = `
  SELECT lot.material_code AS "materialCode", sum(lot.left_g)::bigint AS "massG"
  FROM (SELECT r.material_code, r.accepted_g - r.assigned_g AS left_g
        FROM drop_off_now r JOIN site s ON s.id = r.site_id
        WHERE r.site_id = ANY($1::uuid[]) AND NOT r.voided
          AND r.occurred_at >= coalesce($2::date - 1, '-infinity') AND r.occurred_at < coalesce($2::date + 2, 'infinity')
          AND ($2::date IS NULL OR (r.occurred_at AT TIME ZONE s.time_zone)::date = $2)
        OFFSET 0) AS lot
  WHERE lot.left_g > 0 GROUP BY 1 ORDER BY 1`;

@Injectable()
export class WaitingRecords {
  constructor(private readonly database: Database) {}

  /** Those of the sites that take drop-offs, by code; null is every site. */
  async hubs(siteIds: string[] | null): Promise<Hub[]> {
    return this.database.sql.query<Hub>(HUBS, [siteIds], 'hubs-of');
  }

  /** What waits at these hubs, of one of their local days ("2026-05-02") or of any. */
  async waiting(siteIds: readonly string[], day: string | null): Promise<WaitingLine[]> {
    return this.database.sql.query<WaitingLine>(WAITING, [siteIds, day], 'waiting-lots');
  }
}
