const PLACES = `place AS MATERIALIZED (
  SELECT id, time_zone, jurisdiction_id, $2::timestamp AT TIME ZONE time_zone AS begins, $3::timestamp AT TIME ZONE time_zone AS ends FROM site)`;

const MOVED = `moved AS MATERIALIZED (
  SELECT r.drop_off_id, r.revision, r.site_id, r.material_code, r.depositor, r.basis, r.occurred_at, r.accepted_g, r.rejected_g,
         date_trunc('month', r.occurred_at AT TIME ZONE p.time_zone) AS month
  FROM drop_off_revision r JOIN place p ON p.id = r.site_id
  WHERE r.jurisdiction_id = $1 AND r.superseded_by IS NULL AND NOT r.voided
    AND r.occurred_at >= $2::timestamptz - interval '1 day' AND r.occurred_at < $3::timestamptz + interval '1 day'
    AND r.occurred_at >= p.begins AND r.occurred_at < p.ends
), grouped AS (
  SELECT site_id, material_code, month, depositor, count(*) AS lots, sum(accepted_g) AS accepted_g,
         sum(accepted_g) FILTER (WHERE basis = 'scale') AS weighed_g, sum(accepted_g) FILTER (WHERE basis = 'haul') AS shared_g,
         sum(accepted_g) FILTER (WHERE basis = 'volume') AS estimated_g, sum(rejected_g) AS pulled_g
  FROM moved GROUP BY GROUPING SETS ((site_id), (material_code), (month), (depositor), ())
)`;

const PULLED = `SELECT json_agg(x) FROM (SELECT went_to, sum(mass_g) FROM moved JOIN drop_off_reject USING (drop_off_id, revision)
  WHERE rejected_g > 0 GROUP BY 1) AS x`;
const VISITS = `SELECT json_agg(x) FROM (SELECT depositor, count(*) AS visits
  FROM (SELECT DISTINCT depositor, site_id, occurred_at FROM moved) AS visit GROUP BY 1) AS x`;

/** What came in in the period, straight from the tables: by site, material, month and depositor, what was pulled, and the visits. */
export const PERIOD_BY_HAND = `
  WITH ${PLACES}, ${MOVED} SELECT (SELECT json_agg(g) FROM grouped g), (${PULLED}), (${VISITS})`;

const stockAt = (day: 'begins' | 'ends'): string => `
  (SELECT json_agg(x) FROM (
    SELECT coalesce(s.stage, 'waiting') AS stage, sum(h.mass_g) AS mass_g FROM (
      SELECT batch_id, accepted_${day} AS mass_g FROM held WHERE batch_id IS NULL
      UNION ALL SELECT NULL, -sum(assigned_${day}) FROM held
      UNION ALL SELECT batch_id, assigned_${day} FROM held WHERE batch_id IS NOT NULL) AS h
    LEFT JOIN batch b ON b.id = h.batch_id LEFT JOIN place p ON p.id = b.site_id
    LEFT JOIN LATERAL (SELECT stage FROM batch_stage WHERE batch_id = h.batch_id AND entered_at < p.${day}
      ORDER BY entered_at DESC LIMIT 1) AS s ON true
    WHERE h.batch_id IS NULL OR s.stage IN ('building', 'active', 'curing') GROUP BY 1) AS x)`;

/**
 * All of it by hand: the same, and what lay where when the year began and ended, the residue of the year with what its batches were
 * made of, and what was refused. As little as will do; hauls and merges, of which there are none, are left out.
 */
export const BY_HAND = `
  WITH RECURSIVE ${PLACES}, ${MOVED}, held AS MATERIALIZED (
    SELECT NULL::uuid AS batch_id, sum(r.accepted_g) FILTER (WHERE r.occurred_at < p.begins) AS accepted_begins,
           sum(r.accepted_g) FILTER (WHERE r.occurred_at < p.ends) AS accepted_ends, 0::bigint AS assigned_begins, 0::bigint AS assigned_ends
    FROM drop_off_revision r JOIN place p ON p.id = r.site_id
    WHERE r.jurisdiction_id = $1 AND r.superseded_by IS NULL AND NOT r.voided
    UNION ALL
    SELECT a.batch_id, 0, 0, coalesce(sum(a.mass_g) FILTER (WHERE a.occurred_at < p.begins), 0),
           coalesce(sum(a.mass_g) FILTER (WHERE a.occurred_at < p.ends), 0)
    FROM drop_off_revision r JOIN assignment a USING (drop_off_id) JOIN batch b ON b.id = a.batch_id JOIN place p ON p.id = b.site_id
    WHERE r.jurisdiction_id = $1 AND r.superseded_by IS NULL AND a.voided_at IS NULL GROUP BY 1
  ), link AS MATERIALIZED (
    SELECT from_batch_id, batch_id, mass_g FROM amendment WHERE from_batch_id IS NOT NULL AND voided_at IS NULL
  ), reached AS (
    SELECT batch_id FROM held WHERE batch_id IS NOT NULL
    UNION SELECT link.batch_id FROM reached JOIN link ON link.from_batch_id = reached.batch_id
  ), residue AS MATERIALIZED (
    SELECT c.batch_id, b.site_id, c.residue_g, c.residue_went_to, to_char(c.occurred_at AT TIME ZONE p.time_zone, 'YYYY-MM') AS month
    FROM screening c JOIN batch b ON b.id = c.batch_id JOIN place p ON p.id = b.site_id
    WHERE c.voided_at IS NULL AND c.residue_g > 0 AND c.occurred_at >= p.begins AND c.occurred_at < p.ends
      AND c.batch_id IN (SELECT batch_id FROM reached)
  ), web AS (
    SELECT batch_id FROM residue UNION SELECT link.from_batch_id FROM web JOIN link ON link.batch_id = web.batch_id
  ), inputs AS (
    SELECT a.batch_id, r.jurisdiction_id, r.site_id, r.material_code, sum(a.mass_g) AS mass_g
    FROM assignment a JOIN drop_off_revision r ON r.drop_off_id = a.drop_off_id AND r.superseded_by IS NULL
    WHERE a.voided_at IS NULL AND a.batch_id IN (SELECT batch_id FROM web) GROUP BY 1, 2, 3, 4
  ), refused AS (
    SELECT count(*), count(*) FILTER (WHERE f.mass_g IS NULL), sum(f.mass_g) FROM refusal f JOIN place p ON p.id = f.site_id
    WHERE p.jurisdiction_id = $1 AND f.voided_at IS NULL AND f.occurred_at >= p.begins AND f.occurred_at < p.ends
  ), stock AS (SELECT ${stockAt('begins')} AS begins, ${stockAt('ends')} AS ends)
  SELECT json_build_object(
    'grouped', (SELECT json_agg(g) FROM grouped g), 'pulled', (${PULLED}), 'byDepositor', (${VISITS}),
    'residue', (SELECT json_agg(x) FROM residue x), 'inputs', (SELECT json_agg(x) FROM inputs x),
    'links', (SELECT json_agg(x) FROM link x JOIN web USING (batch_id)), 'refused', (SELECT json_agg(x) FROM refused x),
    'atStart', stock.begins,
    'lots', (SELECT count(*) FROM moved), 'acceptedG', (SELECT sum(accepted_g) FROM moved),
    'visits', (SELECT count(*) FROM (SELECT DISTINCT depositor, site_id, occurred_at FROM moved) AS v),
    'waitingG', (SELECT (x ->> 'mass_g')::bigint FROM json_array_elements(stock.ends) x WHERE x ->> 'stage' = 'waiting'),
    'curingG', (SELECT (x ->> 'mass_g')::bigint FROM json_array_elements(stock.ends) x WHERE x ->> 'stage' = 'curing')) AS all
  FROM stock`;
