/** CTE: sites with the period's bounds (`$2`, `$3`) on their own clocks, converted once a site and not once a row. */
export const PLACES = `
  place AS MATERIALIZED (
    SELECT id, time_zone, jurisdiction_id, $2::timestamp AT TIME ZONE time_zone AS begins,
           $3::timestamp AT TIME ZONE time_zone AS ends
    FROM site
  )`;

/** Within the period at place `p`. The first two bounds are wide, so that an index on the time serves. */
export const within = (moment: string): string => `
  ${moment} >= $2::timestamptz - interval '1 day' AND ${moment} < $3::timestamptz + interval '1 day'
  AND ${moment} >= p.begins AND ${moment} < p.ends`;
