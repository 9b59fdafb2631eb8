import { Injectable } from '@nestjs/common';
import type {
  BatchLink,
  DiversionSums,
  GroupInput,
  NamedSite,
  Residue,
  ResidueAsked,
  ResidueConvention,
  StockSums,
} from '#libs/accounting';
import { Database, type Sql } from '#libs/database';
import { PLACES, within } from './period-sql.js';

export type { Sql };

export interface Period extends ResidueAsked {
  /** Local days, `to` excluded. */
  from: string;
  to: string;
}

export type Movements = Pick<DiversionSums, 'movements' | 'pulled' | 'visits' | 'refused'>;

/** What lay in stock, and the batches from which residue came in the period, with all that led into them. */
export interface Batches {
  stockAtStart: StockSums;
  stockAtEnd: StockSums;
  residues: Residue[];
  inputs: GroupInput[];
  links: BatchLink[];
}

export interface Names {
  sites: NamedSite[];
  materials: { code: string; name: string }[];
}

export interface Town {
  name: string;
  reportingYearStart: string;
  residueTo: ResidueConvention;
}

const TOWN = `
  SELECT name, reporting_year_start AS "reportingYearStart", residue_to AS "residueTo"
  FROM jurisdiction WHERE id = $1`;

const rows = (of: string): string => `(SELECT coalesce(json_agg(one), '[]') FROM (${of}) AS one)`;

/** Of the movements of the period; what was accepted is what was dropped off less what was pulled. */
const MOVEMENTS = `
  WITH ${PLACES}, moved AS MATERIALIZED (
    SELECT f.kind, f.site_id, f.material_code, f.depositor, f.basis, f.to_place, f.occurred_at, f.mass_g,
           CASE f.kind WHEN 'drop-off' THEN f.mass_g WHEN 'pulled' THEN -f.mass_g END AS accepted_g,
           date_trunc('month', f.occurred_at AT TIME ZONE p.time_zone) AS month
    FROM mass_flow f JOIN place p ON p.id = f.site_id
    WHERE f.jurisdiction_id = $1 AND f.kind IN ('drop-off', 'pulled', 'haul-elsewhere')
      AND ($4::uuid[] IS NULL OR f.site_id = ANY ($4)) AND ${within('f.occurred_at')}
  ), grouped AS (
    SELECT site_id AS "siteId", material_code AS material, to_char(month, 'YYYY-MM') AS month, depositor,
           count(*) FILTER (WHERE kind = 'drop-off') AS lots,
           coalesce(sum(accepted_g) FILTER (WHERE basis = 'scale'), 0) AS "weighedG",
           coalesce(sum(accepted_g) FILTER (WHERE basis = 'haul'), 0) AS "sharedG",
           coalesce(sum(accepted_g) FILTER (WHERE basis = 'volume'), 0) AS "estimatedG",
           coalesce(sum(mass_g) FILTER (WHERE kind = 'pulled'), 0) AS "pulledG",
           coalesce(sum(mass_g) FILTER (WHERE kind = 'haul-elsewhere'), 0) AS "elsewhereG"
    FROM moved GROUP BY GROUPING SETS ((site_id), (material_code), (month), (depositor), ()) HAVING count(*) > 0
  )
  SELECT ${rows('SELECT * FROM grouped')} AS movements,
    ${rows(`SELECT to_place AS "wentTo", sum(mass_g) AS "massG" FROM moved WHERE kind = 'pulled' GROUP BY 1`)} AS pulled,
    ${rows(`SELECT depositor, count(*) AS visits
            FROM (SELECT DISTINCT depositor, site_id, occurred_at FROM moved WHERE kind = 'drop-off') AS visit
            GROUP BY 1`)} AS visits,
    (SELECT row_to_json(refused) FROM (
       SELECT count(*) AS loads, count(*) FILTER (WHERE f.mass_g IS NULL) AS unweighed,
              coalesce(sum(f.mass_g), 0) AS "massG"
       FROM refusal f JOIN place p ON p.id = f.site_id
       WHERE p.jurisdiction_id = $1 AND f.voided_at IS NULL AND ($4::uuid[] IS NULL OR f.site_id = ANY ($4))
         AND ${within('f.occurred_at')}) AS refused) AS refused`;

/** What lay at the sites asked for (of a place), as of the moments at which the period begins and ends. */
const here = (place: string): string => `($4::uuid[] IS NULL OR ${place} = ANY ($4))`;
const before = (moment: string, sign: string): string =>
  `coalesce(sum(${sign}) FILTER (WHERE f.occurred_at < ${moment}), 0)`;

const WAITED = `CASE WHEN f.to_place = 'site' AND ${here('f.to_id')} THEN f.mass_g ELSE 0 END
  - CASE WHEN f.from_place = 'site' AND ${here('f.from_id')} THEN f.mass_g ELSE 0 END`;
const TRAVELLED = `CASE WHEN NOT ${here('f.lot_site_id')} THEN 0 WHEN f.to_place = 'road' THEN f.mass_g
  WHEN f.from_place = 'road' THEN -f.mass_g ELSE 0 END`;

const stockAt = (day: 'start' | 'end'): string => `(
  SELECT row_to_json(stock) FROM (
    SELECT (SELECT coalesce(sum(${day}_waited_g), 0) FROM lots) AS "waitingG",
           (SELECT coalesce(sum(${day}_travelled_g), 0) FROM lots) AS "onTheRoadG",
           coalesce(sum(mass_g) FILTER (WHERE stage = 'building'), 0) AS "buildingG",
           coalesce(sum(mass_g) FILTER (WHERE stage = 'active'), 0) AS "activeG",
           coalesce(sum(mass_g) FILTER (WHERE stage = 'curing'), 0) AS "curingG"
    FROM lying WHERE day = '${day}') AS stock)`;

/**
 * One pass over the jurisdiction's lots of all time says what of them lay where, and in which batches they are; from these the
 * screenings of the period are found, through what was led on into other batches, and then all that led into those.
 */
const BATCHES = `
  WITH RECURSIVE ${PLACES}, lots AS MATERIALIZED (
    SELECT CASE f.kind WHEN 'assignment' THEN f.to_id END AS batch_id, f.site_id,
           ${before('p.begins', WAITED)} AS start_waited_g, ${before('p.ends', WAITED)} AS end_waited_g,
           ${before('p.begins', TRAVELLED)} AS start_travelled_g, ${before('p.ends', TRAVELLED)} AS end_travelled_g,
           ${before('p.begins', 'f.mass_g')} AS start_g, ${before('p.ends', 'f.mass_g')} AS end_g
    FROM mass_flow f JOIN place p ON p.id = f.site_id
    WHERE f.jurisdiction_id = $1
      AND f.kind IN ('drop-off', 'pulled', 'haul-out', 'haul-in', 'haul-elsewhere', 'assignment')
    GROUP BY 1, 2
  ), link AS MATERIALIZED (
    SELECT f.from_id, f.to_id, f.kind, f.occurred_at, f.mass_g FROM mass_flow f
    WHERE f.to_place = 'batch' AND f.from_place IN ('overs', 'batch') AND f.from_id IS NOT NULL
  ), held AS (
    SELECT day.day, lots.batch_id, lots.site_id, CASE day.day WHEN 'start' THEN start_g ELSE end_g END AS mass_g,
           CASE day.day WHEN 'start' THEN p.begins ELSE p.ends END AS at
    FROM lots JOIN place p ON p.id = lots.site_id CROSS JOIN (VALUES ('start'), ('end')) AS day (day)
    WHERE lots.batch_id IS NOT NULL AND ${here('lots.site_id')}
    UNION ALL
    SELECT held.day, link.to_id, held.site_id, held.mass_g, held.at
    FROM held JOIN link ON link.from_id = held.batch_id AND link.kind = 'merge' AND link.occurred_at < held.at
  ), lying AS (
    SELECT held.day, held.mass_g, s.stage FROM held CROSS JOIN LATERAL (
      SELECT stage FROM batch_stage WHERE batch_id = held.batch_id AND entered_at < held.at
      ORDER BY entered_at DESC, stage_rank(stage) DESC NULLS FIRST LIMIT 1) AS s
    WHERE held.mass_g > 0
  ), reached AS (
    SELECT batch_id FROM lots WHERE batch_id IS NOT NULL
    UNION SELECT link.to_id FROM reached JOIN link ON link.from_id = reached.batch_id
  ), residue AS MATERIALIZED (
    SELECT f.from_id AS batch_id, f.site_id, f.to_place, f.mass_g,
           to_char(f.occurred_at AT TIME ZONE p.time_zone, 'YYYY-MM') AS month
    FROM mass_flow f JOIN place p ON p.id = f.site_id
    WHERE f.kind = 'screening' AND f.part = 'residue' AND ${within('f.occurred_at')}
      AND CASE $5 WHEN 'site' THEN p.jurisdiction_id = $1 ELSE f.from_id IN (SELECT batch_id FROM reached) END
  ), web AS (
    SELECT batch_id FROM residue
    UNION SELECT link.from_id FROM web JOIN link ON link.to_id = web.batch_id
  )
  SELECT ${stockAt('start')} AS "stockAtStart", ${stockAt('end')} AS "stockAtEnd",
    ${rows(`SELECT batch_id AS "batchId", site_id AS "siteId", month, to_place AS "wentTo", mass_g AS "massG"
            FROM residue ORDER BY 1, 2, 3, 4, 5`)} AS residues,
    ${rows(`SELECT web.batch_id AS "batchId", made.* FROM web CROSS JOIN LATERAL (
              SELECT f.jurisdiction_id AS "jurisdictionId", f.lot_site_id AS "siteId", f.material_code AS material,
                     sum(f.mass_g) AS "massG"
              FROM mass_flow f
              WHERE f.to_place = 'batch' AND f.to_id = web.batch_id AND f.material_code <> 'water'
                AND (f.from_place IN ('site', 'stock') OR f.from_place = 'overs' AND f.from_id IS NULL)
              GROUP BY 1, 2, 3) AS made`)} AS inputs,
    ${rows(`SELECT link.from_id AS "fromBatchId", link.to_id AS "toBatchId", sum(link.mass_g) AS "massG"
            FROM link JOIN web ON web.batch_id = link.to_id GROUP BY 1, 2 ORDER BY 1, 2`)} AS links`;

const NAMES = `
  SELECT ${rows('SELECT id, code, name FROM site ORDER BY code')} AS sites,
         ${rows('SELECT code, name FROM material ORDER BY code')} AS materials`;

@Injectable()
export class DiversionRecords {
  constructor(private readonly database: Database) {}

  atOneMoment<T>(work: (sql: Sql) => Promise<T>): Promise<T> {
    return this.database.readSnapshot(work);
  }

  async jurisdiction(sql: Sql, id: string): Promise<Town | undefined> {
    const [town] = await sql.query<Town>(TOWN, [id]);
    return town;
  }

  async movements(sql: Sql, { jurisdictionId, from, to, siteIds }: Period): Promise<Movements> {
    return one(await sql.query<Movements>(MOVEMENTS, [jurisdictionId, from, to, siteIds]));
  }

  async batches(sql: Sql, { jurisdictionId, from, to, siteIds, residueTo }: Period): Promise<Batches> {
    return one(await sql.query<Batches>(BATCHES, [jurisdictionId, from, to, siteIds, residueTo]));
  }

  async names(sql: Sql): Promise<Names> {
    return one(await sql.query<Names>(NAMES));
  }
}

function one<Row>([row]: readonly Row[]): Row {
  if (row === undefined) throw new Error('the sums of a period answered no row');
  return row;
}
