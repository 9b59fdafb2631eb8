/** Within the period of place `p`, on its own clock. */
const within = (moment: string): string => `${moment} >= p.begins AND ${moment} < p.ends`;

/** Movements of one kind in the period at place `p`. */
const moved = (kind: string): string => `mass_flow f WHERE f.kind = '${kind}' AND f.site_id = p.id
    AND ${within('f.occurred_at')}`;

const rows = (of: string): string => `(SELECT coalesce(json_agg(one), '[]') FROM (${of}) AS one)`;

const PERMITS = `
  SELECT reference, valid_from AS "validFrom", valid_to AS "validTo" FROM permit
  WHERE site_id = p.id AND valid_from < $4::date AND (valid_to IS NULL OR valid_to >= $3::date) ORDER BY valid_from`;

const ofMaterials = (from: string): string => `
  SELECT sum.material, m.name, sum."massG", sum."estimatedG"
  FROM (SELECT f.material_code AS material, sum(f.mass_g) AS "massG",
      coalesce(sum(f.mass_g) FILTER (WHERE f.basis = 'volume'), 0) AS "estimatedG"
    FROM ${from} GROUP BY f.material_code) AS sum JOIN material m ON m.code = sum.material
  ORDER BY m.name, sum.material`;

const RECEIVED = ofMaterials(moved('assignment'));
const BULKING = ofMaterials(
  `${moved('amendment')} AND f.from_place = 'stock' AND f.material_code <> 'water'`,
);

const ORIGINS = `
  SELECT j.name AS jurisdiction, sum(f.mass_g) AS "massG"
  FROM jurisdiction j, ${moved('assignment')} AND f.jurisdiction_id = j.id GROUP BY j.id, j.name ORDER BY j.name, j.id`;

const WATER = `
  (SELECT coalesce(sum(f.mass_g), 0)::bigint FROM mass_flow f WHERE f.kind IN ('amendment', 'watering') AND f.site_id = p.id
    AND ${within('f.occurred_at')} AND f.material_code = 'water')`;

// What came out of another batch was told of when that one was built; of one that was merged before it was, it is told here.
const PROCESSED = `
  (SELECT json_build_object('batches', count(*), 'massG', coalesce(sum((
      SELECT sum(f.mass_g) FROM mass_flow f
      WHERE f.to_place = 'batch' AND f.to_id = b.id AND f.occurred_at <= s.entered_at AND f.material_code <> 'water'
        AND f.kind <> 'watering' AND f.from_place <> 'overs'
        AND (f.kind <> 'merge' OR NOT EXISTS (
          SELECT FROM batch_stage g WHERE g.batch_id = f.from_id AND g.stage = 'active')))), 0))
    FROM batch b JOIN batch_stage s ON s.batch_id = b.id AND s.stage = 'active'
    WHERE b.site_id = p.id AND ${within('s.entered_at')})`;

/** What came to a place by the end of the period, less what had left it. */
const left = (place: string, ids: string): string => `
  SELECT f.to_id AS id, f.mass_g FROM mass_flow f
  WHERE f.to_place = '${place}' AND f.to_id ${ids} AND f.occurred_at < p.ends
  UNION ALL
  SELECT f.from_id, -f.mass_g FROM mass_flow f
  WHERE f.from_place = '${place}' AND f.from_id ${ids} AND f.occurred_at < p.ends`;

const ofYard = (place: string): string =>
  `(SELECT id, sum(mass_g) AS left_g FROM (${left(place, 'IN (SELECT id FROM yard)')}) AS moved GROUP BY id)`;

// Of what was released and never screened all lies there as compost; of what was screened, what is left in the books of the
// batch was lost to the air. What was condemned lies there until it is parted.
const HEAPS = `
  WITH yard AS (
    SELECT b.id, now_in.stage, parted.last_at IS NOT NULL AS screened,
      now_in.stage = 'condemned' AND parted.last_at >= now_in.entered_at AS carried_off, parted.measured_g, parted.measured_ml,
      (SELECT CASE WHEN m.outdated_at < p.ends THEN NULL ELSE m.volume_ml END FROM pile_measured m
        WHERE m.batch_id = b.id AND m.occurred_at < p.ends
        ORDER BY occurred_at DESC, recorded_at DESC, id DESC LIMIT 1) AS pile_ml
    FROM batch b
    CROSS JOIN LATERAL (
      SELECT stage, entered_at FROM batch_stage s WHERE s.batch_id = b.id AND s.entered_at < p.ends
      ORDER BY (stage = 'condemned') DESC, stage_rank(stage) DESC LIMIT 1) AS now_in
    CROSS JOIN LATERAL (
      SELECT max(occurred_at) AS last_at, sum(compost_volume_ml) AS measured_ml,
        sum(compost_g) FILTER (WHERE compost_volume_ml IS NOT NULL) AS measured_g
      FROM screening s WHERE s.batch_id = b.id AND s.voided_at IS NULL AND s.occurred_at < p.ends) AS parted
    WHERE b.site_id = p.id),
  heap AS (
    SELECT CASE stage WHEN 'released' THEN 'finished' ELSE stage END AS stage, left_g, pile_ml AS volume_ml
    FROM yard JOIN ${ofYard('batch')} AS rest USING (id)
    WHERE (stage IN ('building', 'active', 'curing') OR stage = 'condemned' AND NOT coalesce(carried_off, false)
      OR stage = 'released' AND NOT screened)
    UNION ALL
    SELECT 'overs', left_g, NULL FROM ${ofYard('overs')} AS rest
    UNION ALL
    SELECT 'finished', left_g, left_g * measured_ml / nullif(measured_g, 0)
    FROM yard JOIN ${ofYard('compost')} AS rest USING (id)
    UNION ALL
    SELECT 'waiting', sum(mass_g), NULL FROM (${left('site', '= p.id')}) AS moved)
  SELECT stage, sum(left_g) AS "massG",
    CASE WHEN count(*) = count(volume_ml) THEN round(sum(volume_ml)) END AS "volumeMl"
  FROM heap WHERE left_g <> 0 GROUP BY stage`;

/** A volume only where it was measured every time. */
const wholeVolume = (volumeMl: string): string =>
  `CASE WHEN count(*) = count(${volumeMl}) THEN coalesce(sum(${volumeMl}), 0) END`;

const PRODUCED = `
  (SELECT json_build_object('batches', count(DISTINCT s.batch_id), 'massG', coalesce(sum(f.mass_g), 0),
      'volumeMl', ${wholeVolume('s.compost_volume_ml')})
    FROM screening s, ${moved('screening')} AND f.part = 'compost' AND s.id = f.source_id)`;

const DISTRIBUTED = `
  SELECT d.use, d.recipient, sum(f.mass_g) AS "massG", ${wholeVolume('d.volume_ml')} AS "volumeMl", count(*) AS count
  FROM distribution d, ${moved('distribution')} AND d.id = f.source_id GROUP BY d.use, d.recipient ORDER BY 1, 2`;

const RESIDUE = `
  SELECT f.to_place AS "wentTo", sum(f.mass_g) AS "massG" FROM ${moved('screening')} AND f.part = 'residue'
  GROUP BY f.to_place ORDER BY f.to_place`;

const RELEASES = `
  SELECT b.code AS batch, (r.signed_at AT TIME ZONE p.time_zone)::date AS "releasedOn", v.verdict #>> '{rule,code}' AS rule,
    v.verdict ->> 'status' AS status, v.verdict -> 'creditedHours' AS "hotHours", v.verdict -> 'turnsCredited' AS turns, r.seal
  FROM release r JOIN batch b ON b.id = r.batch_id JOIN sealed_document d ON d.seal = r.seal
    CROSS JOIN LATERAL (SELECT d.document::jsonb -> 'verdict' AS verdict) AS v
  WHERE b.site_id = p.id AND ${within('r.signed_at')} ORDER BY r.signed_at, b.code`;

const outcome = (of: string): string => `count(*) FILTER (WHERE s.outcome = '${of}') AS ${of}`;
const SAMPLES = `
  SELECT s.kind, ${outcome('passed')}, ${outcome('failed')}, ${outcome('information')}
  FROM sample s JOIN batch b ON b.id = s.batch_id
  WHERE b.site_id = p.id AND s.voided_at IS NULL AND ${within('s.occurred_at')} GROUP BY s.kind ORDER BY s.kind`;

const COMPLAINTS = `
  SELECT (c.occurred_at AT TIME ZONE p.time_zone)::date AS "on", c.kind, c.about,
    ARRAY(SELECT a.done FROM complaint_action a WHERE a.complaint_id = c.id ORDER BY a.occurred_at, a.id) AS done
  FROM complaint c WHERE c.site_id = p.id AND c.voided_at IS NULL AND ${within('c.occurred_at')}
  ORDER BY c.occurred_at, c.id`;

/** $1 is the jurisdiction whose yards are asked for, or $2 the one site; $3 and $4 are local days, the second excluded. */
export const FACILITIES = `
  WITH place AS MATERIALIZED (
    SELECT id, code, name, time_zone, $3::timestamp AT TIME ZONE time_zone AS begins,
      $4::timestamp AT TIME ZONE time_zone AS ends
    FROM site WHERE ($1::uuid IS NULL OR jurisdiction_id = $1 AND runs_batches) AND ($2::uuid IS NULL OR id = $2))
  SELECT p.code, p.name, ${rows(PERMITS)} AS permits, ${rows(RECEIVED)} AS "receivedByMaterial",
    ${rows(ORIGINS)} AS "receivedByOrigin", ${rows(BULKING)} AS bulking, ${WATER} AS "waterG", ${PROCESSED} AS processed,
    ${rows(HEAPS)} AS heaps, ${PRODUCED} AS produced, ${rows(DISTRIBUTED)} AS distributed, ${rows(RESIDUE)} AS residue,
    ${rows(RELEASES)} AS releases, ${rows(SAMPLES)} AS samples, ${rows(COMPLAINTS)} AS complaints
  FROM place p ORDER BY p.code`;
