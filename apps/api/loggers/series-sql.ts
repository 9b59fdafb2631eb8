import type { ProbeTerms } from '#libs/process';

/** When each target of a device was about a batch: `$1` is the batch, `$3` the end, excluded. */
export const TARGET_SPANS = `
  WITH span AS (
    SELECT t.id AS target_id, t.device_id, b.occurred_at AS from_at, $3::timestamptz AS to_at
      FROM batch b JOIN device_target t ON t.batch_id = b.id WHERE b.id = $1
    UNION ALL
    SELECT t.id, t.device_id, s.from_at, least(coalesce(s.to_at, $3), $3)
      FROM bay_stay s JOIN device_target t ON t.bay_id = s.bay_id WHERE s.batch_id = $1)`;

/** Whether a set-aside `a` that stands is of a probe `p`. */
export const IS_OF_PROBE = `a.device_id = span.device_id AND a.voided_at IS NULL
  AND coalesce(a.target_id, p.target_id) = p.target_id AND coalesce(a.position, p.position) = p.position`;

/** When what each probe told is of the batch and counts: its target's spans from `$2` on, without what was set aside. */
export const PROBE_SPANS = `${TARGET_SPANS},
  probe_span AS (
    SELECT span.device_id, p.id AS probe_id, p.position, lower(part) AS from_at, upper(part) AS to_at
    FROM span JOIN logger_probe p ON p.target_id = span.target_id
      CROSS JOIN LATERAL unnest(
        tstzmultirange(tstzrange(greatest(span.from_at, $2), greatest(span.from_at, $2, span.to_at)))
        - coalesce((SELECT range_agg(tstzrange(a.from_at, a.to_at + interval '1 ms'))
                    FROM logger_set_aside a WHERE ${IS_OF_PROBE}), '{}')) AS part)`;

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
const UNSURE = `FILTER (WHERE class = ${probeClasses.heard} AND t <= $11)`;
const EXTREMES = `min(t) ${HEARD} AS low, max(t) ${HEARD} AS high`;
const SUMS = `sum(t) ${COUNTED} AS sum`;
const SUMS_AND_UNSURE = `${SUMS}, array_agg(t ORDER BY t) ${UNSURE} AS unsure`;

const MEAN = 'sum::float8 / nullif(counted, 0)';
/** Means of what is counted with one more at a time of what is only heard, in an order. */
const meansWith = (order: 'ASC' | 'DESC') => `SELECT
  (coalesce(sum, 0) + sum(u.t) OVER (ORDER BY u.place ${order}))::float8
    / (counted + row_number() OVER (ORDER BY u.place ${order})) AS mean
  FROM unnest(unsure) WITH ORDINALITY AS u (t, place)`;
const MEANS = `${MEAN} AS low, ${MEAN} AS high`;
/** Of the means of what is counted together with any of what is only heard, the one that is worse for the batch at either end. */
const MEANS_AND_UNSURE = `least(${MEAN}, (SELECT min(mean) FROM (${meansWith('ASC')}) AS colder)) AS low,
  greatest(${MEAN}, (SELECT max(mean) FROM (${meansWith('DESC')}) AS hotter)) AS high`;

// As `momentOf` of libs/process does it; in its order, and as places in `lacks` there.
const LACK = `CASE WHEN deep > heard THEN 0 WHEN n < $9 THEN 1 WHEN zones < $10 THEN 2
  WHEN counted < $9 OR counted_zones < $10 THEN 3 ELSE ${NO_LACK} END`;

/** A mean of all probes, where some are only heard, which is dearer: zones are told apart without taking the probes apart. */
function meanWithUnsure(): string {
  return `
    SELECT at, ${MEANS_AND_UNSURE}, ${LACK} AS lack FROM (
      SELECT at, ${COUNTS}, ${SUMS_AND_UNSURE}, count(DISTINCT zone) AS zones,
        count(DISTINCT zone) ${COUNTED} AS counted_zones FROM ${DAY} GROUP BY at) AS instant`;
}

/** Instants of one day where every probe stands for itself. */
function flat(governing: ProbeTerms['governing']): string {
  const figures = governing === 'mean' ? SUMS : EXTREMES;
  const ends = governing === 'mean' ? MEANS : 'low, high';
  return `
    SELECT at, ${ends}, ${LACK} AS lack FROM (
      SELECT at, ${COUNTS}, ${figures}, $10::int AS zones, $10::int AS counted_zones FROM ${DAY} GROUP BY at) AS instant`;
}

/** Instants of one day, zone by zone first. */
function zoned(governing: ProbeTerms['governing'], someUnsure: boolean): string {
  const [sums, means] = someUnsure ? [SUMS_AND_UNSURE, MEANS_AND_UNSURE] : [SUMS, MEANS];
  const inner = { coldest: EXTREMES, mean: SUMS, 'coldest-zone': sums }[governing];
  const zoneEnds = governing === 'coldest-zone' ? `, ${means}` : '';
  const outer = governing === 'mean' ? 'sum(sum) AS sum' : 'min(low) AS low, max(high) AS high';
  const ends = governing === 'mean' ? MEANS : 'low, high';
  return `
    SELECT at, ${ends}, ${LACK} AS lack FROM (
      SELECT at, sum(n) AS n, sum(deep) AS deep, sum(heard) AS heard, sum(counted) AS counted,
        count(*) AS zones, count(*) FILTER (WHERE counted > 0) AS counted_zones, ${outer}
      FROM (
        SELECT *${zoneEnds} FROM (SELECT at, ${COUNTS}, ${inner} FROM ${DAY} GROUP BY at, zone) AS of_zone) AS zones
      GROUP BY at) AS instant`;
}

function instantsOf({ governing, minimumZones }: ProbeTerms, someUnsure: boolean): string {
  if (governing === 'mean' && someUnsure) return meanWithUnsure();
  const byZone = minimumZones > 1 || governing === 'coldest-zone';
  return byZone ? zoned(governing, someUnsure) : flat(governing);
}

/**
 * What a logger shows a rule, a row a day: instants in order of time, each 26 bytes: microseconds since 2000 (8), the
 * governing temperature at the cold and at the hot end (8 each, IEEE 754), and what is lacking (2).
 * Parameters: from, to, then of each probe its id, placement, class, zone, and its own span; least probes, least zones,
 * and the highest plausible temperature. `someUnsure`: the class of some probe is `heard`.
 */
export function seriesSql(terms: ProbeTerms, someUnsure: boolean): string {
  const instants = instantsOf(terms, someUnsure);
  return `
    SELECT days.columns FROM generate_series($1::timestamptz, $2::timestamptz - interval '1 ms', '1 day') AS day
    CROSS JOIN LATERAL (
      SELECT string_agg(timestamptz_send(at) || float8send(coalesce(low::float8, 'Infinity'))
          || float8send(coalesce(high::float8, '-Infinity')) || int2send(lack::int2), '') AS columns
      FROM (SELECT * FROM (${instants}) AS x ORDER BY at) AS ordered) AS days
    WHERE days.columns IS NOT NULL ORDER BY day`;
}
