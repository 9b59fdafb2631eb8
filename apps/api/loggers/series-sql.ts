import type { ProbeTerms } from '#libs/process';

/** When each target of a device was about a batch: `$1` is the batch, `$3` the end, excluded. */
export const TARGET_SPANS = `
  WITH span AS (
    SELECT t.id AS target_id, t.device_id, b.occurred_at AS from_at, $3::timestamptz AS to_at
      FROM batch b JOIN device_target t ON t.batch_id = b.id WHERE b.id = $1
    UNION ALL
    SELECT t.id, t.device_id, s.from_at, least(coalesce(s.to_at, $3), $3)
      FROM bay_stay s JOIN device_target t ON t.bay_id = s.bay_id WHERE s.batch_id = $1)`;

/** How a probe in its place counts for a rule: set aside, heard against the batch only, or counted. */
export const probeClasses = { aside: 0, heard: 1, counted: 2 } as const;

/** `lack` of an instant that has all the rule asks. */
export const NO_LACK = 255;

// The readings of some probes on one day, `t` in tenths of °C. Each probe is looked up on its own, by the key.
const DAY = `
  unnest($3::int[], $4::int2[], $5::int2[], $6::int4[], $7::timestamptz[], $8::timestamptz[])
    AS probe (id, placement, class, zone, from_at, to_at)
  CROSS JOIN LATERAL (
    SELECT at, temperature_deci_c AS t FROM logger_reading r
    WHERE r.probe_id = probe.id AND r.placement = probe.placement
      AND r.at >= greatest(probe.from_at, day) AND r.at < least(probe.to_at, day + interval '1 day')
    OFFSET 0) AS reading`;

const plausible = (least: number) => `FILTER (WHERE class >= ${least} AND t <= $11)`;
const HEARD = plausible(probeClasses.heard);
const COUNTED = plausible(probeClasses.counted);

const COUNTS = `count(*) AS n, count(*) FILTER (WHERE class >= ${probeClasses.heard}) AS deep,
  count(*) ${HEARD} AS heard, count(*) ${COUNTED} AS counted`;
const EXTREMES = `min(t) ${HEARD} AS low, max(t) ${HEARD} AS high`;
const SUMS = `sum(t) ${HEARD} AS heard_sum, sum(t) ${COUNTED} AS counted_sum`;

const meanOf = (what: 'heard' | 'counted') => `${what}_sum::float8 / nullif(${what}, 0)`;
/** Of the mean of what is heard and of what is counted, the one that is worse for the batch at either end. */
const MEANS = `least(${meanOf('heard')}, ${meanOf('counted')}) AS low,
  greatest(${meanOf('heard')}, ${meanOf('counted')}) AS high`;

// As `momentOf` of libs/process does it; in its order, and as places in `lacks` there.
const LACK = `CASE WHEN deep > heard THEN 0 WHEN n < $9 THEN 1 WHEN zones < $10 THEN 2
  WHEN counted < $9 OR counted_zones < $10 THEN 3 ELSE ${NO_LACK} END`;

/** Instants of one day where every probe stands for itself. */
function flat(governing: ProbeTerms['governing']): string {
  const figures = governing === 'mean' ? SUMS : EXTREMES;
  const ends = governing === 'mean' ? MEANS : 'low, high';
  return `
    SELECT at, ${ends}, ${LACK} AS lack FROM (
      SELECT at, ${COUNTS}, ${figures}, $10::int AS zones, $10::int AS counted_zones FROM ${DAY} GROUP BY at) AS instant`;
}

/** Instants of one day, zone by zone first. */
function zoned(governing: ProbeTerms['governing']): string {
  const inner = {
    coldest: EXTREMES,
    mean: SUMS,
    'coldest-zone': SUMS,
  }[governing];
  const zoneEnds = governing === 'coldest-zone' ? `, ${MEANS}` : '';
  const outer =
    governing === 'mean'
      ? 'sum(heard_sum) AS heard_sum, sum(counted_sum) AS counted_sum'
      : 'min(low) AS low, max(high) AS high';
  const ends = governing === 'mean' ? MEANS : 'low, high';
  return `
    SELECT at, ${ends}, ${LACK} AS lack FROM (
      SELECT at, sum(n) AS n, sum(deep) AS deep, sum(heard) AS heard, sum(counted) AS counted,
        count(*) AS zones, count(*) FILTER (WHERE counted > 0) AS counted_zones, ${outer}
      FROM (
        SELECT *${zoneEnds} FROM (SELECT at, ${COUNTS}, ${inner} FROM ${DAY} GROUP BY at, zone) AS of_zone) AS zones
      GROUP BY at) AS instant`;
}

/**
 * What a logger shows a rule, a row a day: instants in order of time, each 26 bytes: microseconds since 2000 (8), the
 * governing temperature at the cold and at the hot end (8 each, IEEE 754), and what is lacking (2).
 * Parameters: from, to, then of each probe its id, placement, class, zone, and its own span; least probes, least zones,
 * and the highest plausible temperature.
 */
export function seriesSql({ governing, minimumZones }: ProbeTerms): string {
  const instants = minimumZones > 1 || governing === 'coldest-zone' ? zoned(governing) : flat(governing);
  return `
    SELECT days.columns FROM generate_series($1::timestamptz, $2::timestamptz - interval '1 ms', '1 day') AS day
    CROSS JOIN LATERAL (
      SELECT string_agg(timestamptz_send(at) || float8send(coalesce(low::float8, 'Infinity'))
          || float8send(coalesce(high::float8, '-Infinity')) || int2send(lack::int2), '') AS columns
      FROM (SELECT * FROM (${instants}) AS x ORDER BY at) AS ordered) AS days
    WHERE days.columns IS NOT NULL ORDER BY day`;
}
