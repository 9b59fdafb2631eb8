import { TAKEN } from './rows-sql.js';

/** Since this revision of lot `l` the reasons are asked for: the one that the version before was made of, if any. */
const SINCE = `coalesce(c.before_revision, (SELECT revision FROM before WHERE kind = 'drop-off' AND source_id = l.lot_id), 0)`;

const REASONS = `
  (SELECT string_agg(r.reason, '; ' ORDER BY r.revision) FROM drop_off_revision r
   WHERE r.drop_off_id = l.lot_id AND r.revision > ${SINCE})`;

const VOIDED = `
  CASE c.kind
    WHEN 'screening' THEN (SELECT void_reason FROM screening WHERE id = c.source_id)
    WHEN 'assignment' THEN (SELECT void_reason FROM assignment WHERE id = c.source_id)
    WHEN 'amendment' THEN (SELECT void_reason FROM amendment WHERE id = c.source_id)
    WHEN 'refusal' THEN (SELECT void_reason FROM refusal WHERE id = c.source_id)
    WHEN 'haul-elsewhere' THEN (SELECT void_reason FROM haul WHERE id = c.source_id)
  END`;

/** What of a lot is in no row, and is counted all the same; told with its drop-off and not again with what came of it. */
const DEPOSITOR = `
  (c.kind = 'drop-off' AND (SELECT b.depositor <> a.depositor FROM drop_off_revision b, drop_off_revision a
   WHERE b.drop_off_id = l.lot_id AND b.revision = c.before_revision
     AND a.drop_off_id = l.lot_id AND a.revision = c.after_revision))`;

/**
 * Movements that are new, gone or other now than in a version, each with the reason that was given for it. `$1` to `$4` as with
 * `TAKEN`, `$5` and `$6` the version, `$7` the kinds that only lead to shares: of a batch whose residue came in, or
 * went out, as a whole they are not listed one by one; the residue is. A lot that is only of another revision is counted
 * as before: it is no change, but where its depositor is another.
 */
export const CHANGES = `
  WITH RECURSIVE ${TAKEN}, before AS MATERIALIZED (
    SELECT * FROM diversion_report_row WHERE report_id = $5 AND version = $6
  ), changed AS (
    SELECT kind, source_id, part, b.revision AS before_revision, a.revision AS after_revision,
           coalesce(a.occurred_at, b.occurred_at) AS occurred_at, coalesce(a.site_id, b.site_id) AS site_id,
           coalesce(a.material_code, b.material_code) AS material_code, b.mass_g AS before_g, a.mass_g AS after_g,
           array_remove(ARRAY[
             CASE WHEN a.material_code <> b.material_code THEN 'material, was ' || b.material_code END,
             CASE WHEN a.occurred_at <> b.occurred_at
               THEN 'time, was ' || to_char(b.occurred_at AT TIME ZONE
                 (SELECT time_zone FROM site WHERE id = b.site_id), 'YYYY-MM-DD HH24:MI') END,
             CASE WHEN a.site_id <> b.site_id THEN 'site' END,
             CASE WHEN a.basis <> b.basis THEN 'basis, was ' || b.basis END,
             CASE WHEN a.to_place <> b.to_place THEN 'where it went, was ' || b.to_place END], NULL) AS what
    FROM before b FULL JOIN taken a USING (kind, source_id, part)
    WHERE (a.mass_g, a.material_code, a.occurred_at, a.site_id, a.basis, a.to_place, a.revision)
          IS DISTINCT FROM (b.mass_g, b.material_code, b.occurred_at, b.site_id, b.basis, b.to_place, b.revision)
      AND (kind <> ALL ($7::text[]) OR part IN (SELECT part FROM before WHERE kind = ANY ($7))
                                   AND part IN (SELECT part FROM taken WHERE kind = ANY ($7)))
  )
  SELECT CASE WHEN c.before_g IS NULL THEN 'added' WHEN c.after_g IS NULL THEN 'removed' ELSE 'corrected' END AS change,
         c.kind, c.source_id AS "sourceId",
         to_char(c.occurred_at AT TIME ZONE 'UTC', 'YYYY-MM-DD"T"HH24:MI:SS.MS"Z"') AS "occurredAt",
         to_char(c.occurred_at AT TIME ZONE s.time_zone, 'YYYY-MM-DD') AS "localDay", s.time_zone AS "timeZone", s.code AS site,
         coalesce(m.name, c.material_code) AS material, c.before_g::float8 / 1000 AS "beforeKg",
         c.after_g::float8 / 1000 AS "afterKg",
         CASE WHEN ${DEPOSITOR} THEN c.what || 'depositor'::text ELSE c.what END AS what,
         coalesce(${VOIDED}, ${REASONS}) AS reason
  FROM changed c JOIN site s ON s.id = c.site_id LEFT JOIN material m ON m.code = c.material_code
  CROSS JOIN LATERAL (
    SELECT CASE c.kind
      WHEN 'drop-off' THEN c.source_id WHEN 'pulled' THEN c.source_id WHEN 'haul-elsewhere' THEN c.part::uuid
      WHEN 'assignment' THEN (SELECT drop_off_id FROM assignment WHERE id = c.source_id) END AS lot_id
  ) AS l
  WHERE c.what <> '{}' OR c.before_g IS DISTINCT FROM c.after_g OR ${DEPOSITOR}
  ORDER BY c.occurred_at, c.kind COLLATE "C", c.source_id, c.part COLLATE "C"`;
