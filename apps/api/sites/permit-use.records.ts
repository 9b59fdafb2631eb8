import { Injectable } from '@nestjs/common';
import { Database } from '#libs/database';

/** Local days of the site. */
export interface UseAsked {
  siteId: string;
  today: string;
  yearFrom: string;
  weekFrom: string;
}

export interface TakenIn {
  yearG: number;
  weekG: number;
  /** On the days before today from `RECENT_DAYS` ago, and on how many days anything can have come. */
  recentG: number;
  recentDays: number;
  /** In the year of the permit, by material. */
  materials: { material: string; name: string; massG: number }[];
}

export const RECENT_DAYS = 56;

// What a site takes in: what is dropped off there less what is pulled, what hauls bring, and lots of other sites that go
// straight into a batch of its own. What was bought for stock has no day on which it came.
const TAKEN_IN = `
  WITH asked AS (
    SELECT s.id, s.time_zone, $2::date AS today, $3::date AS year_from, $4::date AS week_from,
      $2::date - ${RECENT_DAYS} AS recent_from
    FROM site s WHERE s.id = $1),
  came AS MATERIALIZED (
    SELECT f.material_code, f.occurred_at, CASE f.kind WHEN 'pulled' THEN -f.mass_g ELSE f.mass_g END AS mass_g
    FROM mass_flow f
    WHERE f.site_id = $1 AND (f.kind IN ('drop-off', 'pulled', 'haul-in') OR f.kind = 'assignment' AND f.from_id <> $1)
      AND f.occurred_at >= least($2::date - ${RECENT_DAYS}, $3::date, $4::date)::timestamptz - interval '1 day'),
  daily AS (
    SELECT c.material_code, (c.occurred_at AT TIME ZONE asked.time_zone)::date AS day, c.mass_g FROM came c, asked)
  SELECT coalesce(sum(mass_g) FILTER (WHERE day BETWEEN year_from AND today), 0)::bigint AS "yearG",
    coalesce(sum(mass_g) FILTER (WHERE day BETWEEN week_from AND today), 0)::bigint AS "weekG",
    coalesce(sum(mass_g) FILTER (WHERE day >= recent_from AND day < today), 0)::bigint AS "recentG",
    CASE WHEN EXISTS (
        SELECT FROM mass_flow f WHERE f.site_id = $1 AND f.kind IN ('drop-off', 'haul-in', 'assignment')
          AND f.occurred_at < recent_from AT TIME ZONE min(time_zone))
      THEN ${RECENT_DAYS} ELSE coalesce(today - min(day) FILTER (WHERE day >= recent_from AND day < today), 0)
    END AS "recentDays",
    (SELECT coalesce(json_agg(one), '[]') FROM (
      SELECT d.material_code AS material, m.name, sum(d.mass_g) AS "massG"
      FROM daily d JOIN material m ON m.code = d.material_code WHERE d.day BETWEEN year_from AND today
      GROUP BY d.material_code, m.name HAVING sum(d.mass_g) > 0 ORDER BY m.name, d.material_code) AS one) AS materials
  FROM asked LEFT JOIN daily ON true GROUP BY today, year_from, week_from, recent_from`;

/** Whether another permit of the site is in force on the day after a local day. */
const FOLLOWED = `
  SELECT EXISTS (SELECT FROM permit WHERE site_id = $1 AND valid_from > $2::date AND valid_from <= $2::date + 1) AS followed`;

@Injectable()
export class PermitUseRecords {
  constructor(private readonly database: Database) {}

  /** Null when there is no such site. */
  async takenIn({ siteId, today, yearFrom, weekFrom }: UseAsked): Promise<TakenIn | null> {
    const values = [siteId, today, yearFrom, weekFrom];
    const [row] = await this.database.sql.query<TakenIn>(TAKEN_IN, values, 'permit-taken-in');
    return row ?? null;
  }

  async followed(siteId: string, validTo: string): Promise<boolean> {
    const [row] = await this.database.sql.query<{ followed: boolean }>(
      FOLLOWED,
      [siteId, validTo],
      'permit-followed',
    );
    return row?.followed ?? false;
  }
}
