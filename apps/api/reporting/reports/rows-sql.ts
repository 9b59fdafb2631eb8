import { PLACES, within } from '../period-sql.js';

const ROW = (part = 'f.part') =>
  `f.kind, f.source_id, ${part} AS part, f.revision, f.occurred_at, f.site_id, f.material_code, f.basis, f.from_place, f.to_place, f.mass_g`;

/**
 * CTEs, the last called `taken`: the movements that the figures of a period are summed from, as the records stand now. `$1` is
 * the jurisdiction, `$2` and `$3` the local days, `$4` to whom residue is booked.
 *
 * They are its lots, what was pulled of them and what others composted; loads that were refused in it; the residue that is
 * booked to it, wholly or in part; and, of the batches that residue came out of, all that had gone in, through overs and
 * merges too, since the shares come of it. Of lots of other jurisdictions one sum a batch is kept: it weighs in the
 * shares, and which lots they were is nobody's business here. `part` is the line of a list of rejects, the lot of a haul,
 * or the batch.
 */
export const TAKEN = `
  ${PLACES}, link AS MATERIALIZED (
    SELECT * FROM mass_flow WHERE to_place = 'batch' AND from_place IN ('overs', 'batch') AND from_id IS NOT NULL
  ), reached AS (
    SELECT to_id AS batch_id FROM mass_flow WHERE kind = 'assignment' AND jurisdiction_id = $1
    UNION SELECT link.to_id FROM reached JOIN link ON link.from_id = reached.batch_id
  ), residue AS MATERIALIZED (
    SELECT f.* FROM mass_flow f JOIN place p ON p.id = f.site_id
    WHERE f.kind = 'screening' AND f.part = 'residue' AND ${within('f.occurred_at')}
      AND CASE $4::text WHEN 'site' THEN p.jurisdiction_id = $1 ELSE f.from_id IN (SELECT batch_id FROM reached) END
  ), web AS (
    SELECT from_id AS batch_id FROM residue
    UNION SELECT link.from_id FROM web JOIN link ON link.to_id = web.batch_id
  ), taken AS (
    SELECT ${ROW()} FROM mass_flow f JOIN place p ON p.id = f.site_id
    WHERE f.jurisdiction_id = $1 AND f.kind IN ('drop-off', 'pulled', 'haul-elsewhere') AND ${within('f.occurred_at')}
    UNION ALL
    SELECT 'refusal', f.id, '', NULL, f.occurred_at, f.site_id, f.material_code,
           CASE WHEN f.mass_g IS NULL THEN 'unweighed' ELSE 'scale' END, 'origin', 'returned', coalesce(f.mass_g, 0)::bigint
    FROM refusal f JOIN place p ON p.id = f.site_id
    WHERE p.jurisdiction_id = $1 AND f.voided_at IS NULL AND ${within('f.occurred_at')}
    UNION ALL
    SELECT ${ROW('f.from_id::text')} FROM residue f
    UNION ALL
    SELECT ${ROW('f.to_id::text')} FROM mass_flow f
    WHERE f.kind = 'assignment' AND f.jurisdiction_id = $1 AND f.to_id IN (SELECT batch_id FROM web)
    UNION ALL
    SELECT 'others', f.to_id, f.to_id::text, NULL, max(f.occurred_at), f.site_id, 'mixed', 'mixed', 'site', 'batch',
           sum(f.mass_g)::bigint
    FROM mass_flow f
    WHERE f.kind = 'assignment' AND f.jurisdiction_id <> $1 AND f.to_id IN (SELECT batch_id FROM web)
    GROUP BY f.to_id, f.site_id
    UNION ALL
    SELECT ${ROW('f.to_id::text')} FROM mass_flow f
    WHERE f.kind IN ('amendment', 'merge') AND f.to_id IN (SELECT batch_id FROM web) AND f.from_place <> 'tap'
  )`;

/** What only leads to the shares of a residue that has a row of its own. */
export const LEADING = ['assignment', 'others', 'amendment', 'merge'] as const;

/** Byte order, whatever the collation of the database: the digest must not depend on it. */
export const IN_ORDER = 'ORDER BY kind COLLATE "C", source_id, part COLLATE "C"';

export const HEADING = 'kind,source_id,part,revision,occurred_at,site,material,basis,from,to,mass_g';

/**
 * A row as a line of RFC 4180, without its end. Nothing in it can hold a comma or a quote: words of this code, UUIDs, digits,
 * and codes whose form the database checks.
 */
export const LINE = `concat_ws(',', t.kind, t.source_id, t.part, coalesce(t.revision::text, ''),
  to_char(t.occurred_at AT TIME ZONE 'UTC', 'YYYY-MM-DD"T"HH24:MI:SS.MS"Z"'), s.code, t.material_code, t.basis,
  t.from_place, t.to_place, t.mass_g)`;
