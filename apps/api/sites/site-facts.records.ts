import { Injectable } from '@nestjs/common';
import { Database, type Sql } from '#libs/database';
import type { FiguresAt, MaterialRow } from './material-rows.js';
import type { BayFacts, IntakeAnswer, LotRefs, PermitFacts, SiteFacts } from './site-facts.js';

const SITE = `SELECT id, code, name, time_zone AS "timeZone", jurisdiction_id AS "jurisdictionId",
    takes_drop_offs AS "takesDropOffs", runs_batches AS "runsBatches", opened_on::text AS "openedOn"
  FROM site WHERE id = $1`;

const BAY = `SELECT id, site_id AS "siteId", code, capacity_ml AS "capacityMl"
  FROM bay WHERE site_id = $1 AND code = $2`;

// Every thing that the lots name is answered once, however many of them name it. The lists are unnested so that the
// planner does not see how long they are: it would plan each call anew, which takes longer than the call itself. Densities
// are looked up one by one (LIMIT), since it would read all figures of all materials for one lot otherwise.
const INTAKE = `
  SELECT
    json_build_object('id', s.id, 'code', s.code, 'timeZone', s.time_zone, 'jurisdictionId', s.jurisdiction_id,
      'takesDropOffs', s.takes_drop_offs, 'openedOn', s.opened_on) AS site,
    (SELECT json_agg(json_build_object('code', m.code, 'name', m.name, 'class', m.class, 'traits', m.traits,
        'bulkDensityKgM3', f.typical, 'densitySource', f.source, 'retired', m.retired_at IS NOT NULL))
      FROM material m LEFT JOIN LATERAL (SELECT typical, source FROM material_figure
        WHERE material_code = m.code AND figure = 'bulkDensityKgM3' LIMIT 1) f ON true
      WHERE m.code = ANY (ARRAY(SELECT unnest($2::text[])))) AS materials,
    ARRAY(SELECT id FROM jurisdiction WHERE id = ANY (ARRAY(SELECT unnest($3::uuid[])))) AS jurisdictions,
    (SELECT json_agg(json_build_object('id', id, 'siteId', site_id, 'code', code, 'tareG', tare_g,
        'volumeMl', volume_ml, 'retired', retired_at IS NOT NULL))
      FROM container WHERE id = ANY (ARRAY(SELECT unnest($4::uuid[])))) AS containers,
    (SELECT json_agg(json_build_object('id', id, 'siteId', site_id, 'kind', kind,
        'division', entered -> 'division', 'retired', retired_at IS NOT NULL))
      FROM instrument WHERE id = ANY (ARRAY(SELECT unnest($5::uuid[])))) AS instruments,
    (SELECT json_agg(json_build_object('id', p.id, 'reference', p.reference, 'validFrom', p.valid_from,
        'validTo', p.valid_to,
        'materials', ARRAY(SELECT material_code FROM permit_material pm WHERE pm.permit_id = p.id)))
      FROM permit p WHERE p.site_id = s.id
        AND p.valid_from <= ($8::timestamptz AT TIME ZONE s.time_zone)::date
        AND (p.valid_to IS NULL OR p.valid_to >= ($7::timestamptz AT TIME ZONE s.time_zone)::date)) AS permits,
    ARRAY(SELECT ((at AT TIME ZONE s.time_zone)::date)::text FROM unnest($6::timestamptz[]) WITH ORDINALITY AS lot(at, n)
      ORDER BY n) AS days
  FROM site s WHERE s.id = $1`;

// A permit that was entered without samples or further rules has null for them.
const PERMIT = `
  SELECT p.id, p.site_id AS "siteId", p.reference, p.valid_from::text AS "validFrom", p.valid_to::text AS "validTo",
    p.process_rule AS "processRule", p.process_reading AS "processReading",
    coalesce(p.further_rules, ARRAY[]::text[]) AS "furtherRules", p.minimum_probes AS "minimumProbes",
    p.longest_gap_hours AS "longestGapHours", p.cure_days AS "cureDays", p.cure_reheat_deci_c AS "cureReheatDeciC",
    p.stored_volume_max_ml AS "storedVolumeMaxMl", p.yearly_mass_max_g AS "yearlyMassMaxG",
    p.mass_year_start AS "massYearStart", p.weekly_mass_max_g AS "weeklyMassMaxG",
    coalesce(p.required_samples, ARRAY[]::text[]) AS "requiredSamples",
    ARRAY(SELECT pm.material_code FROM permit_material pm WHERE pm.permit_id = p.id ORDER BY 1) AS materials,
    (SELECT coalesce(json_agg(json_build_object('figure', figure, 'min', min, 'max', max) ORDER BY figure), '[]')
      FROM permit_mix_target target WHERE target.permit_id = p.id) AS "mixTargets"
  FROM site s JOIN permit p ON p.site_id = s.id
    AND p.valid_from <= ($2::timestamptz AT TIME ZONE s.time_zone)::date
    AND (p.valid_to IS NULL OR p.valid_to >= ($2::timestamptz AT TIME ZONE s.time_zone)::date)
  WHERE s.id = $1`;

const MATERIALS = `
  SELECT m.code, m.name, m.class, m.kind, m.traits, m.caution,
    (SELECT coalesce(json_object_agg(f.figure, json_build_object('typical', f.typical, 'min', f.min, 'max', f.max,
        'source', f.source, 'verification', f.verification)), '{}')
      FROM material_figure f WHERE f.material_code = m.code) AS figures,
    (SELECT json_agg(latest) FROM (
      SELECT DISTINCT ON (r.figure) r.figure, r.value, extract(epoch FROM s.occurred_at) * 1000 AS "atMs",
        (s.occurred_at AT TIME ZONE place.time_zone)::date::text AS "measuredOn", s.measured_by AS by, s.reference
      FROM material_measurement s JOIN site place ON place.id = s.site_id CROSS JOIN LATERAL (VALUES
          ('nitrogenPercentDry', s.nitrogen_percent_dry), ('carbonPercentDry', s.carbon_percent_dry),
          ('carbonToNitrogen', s.carbon_to_nitrogen), ('ashPercentDry', s.ash_percent_dry),
          ('moisturePercent', s.moisture_percent), ('bulkDensityKgM3', s.bulk_density_kg_m3),
          ('carbonFromAsh', CASE WHEN s.carbon_percent_dry IS NULL
            AND (s.nitrogen_percent_dry IS NULL OR s.carbon_to_nitrogen IS NULL) THEN s.ash_percent_dry END)
        ) AS r (figure, value)
      WHERE s.site_id = $2 AND s.material_code = m.code AND s.occurred_at <= $3 AND s.voided_at IS NULL
        AND r.value IS NOT NULL
      ORDER BY r.figure, s.occurred_at DESC, s.id DESC) latest) AS readings
  FROM material m WHERE $1::text[] IS NULL OR m.code = ANY($1) ORDER BY m.code`;

/** What the other areas ask of sites: each in one round trip. */
@Injectable()
export class SiteFactsRecords {
  constructor(private readonly database: Database) {}

  async site(id: string, sql: Sql = this.database.sql): Promise<SiteFacts | null> {
    const [row] = await sql.query<SiteFacts>(SITE, [id], 'site-facts');
    return row ?? null;
  }

  async bay(siteId: string, code: string): Promise<BayFacts | null> {
    const [row] = await this.database.sql.query<BayFacts>(BAY, [siteId, code], 'site-bay');
    return row ?? null;
  }

  /** All that the lots (at least one) name, in one round trip; null when there is no such site. */
  async intake(siteId: string, lots: readonly LotRefs[]): Promise<IntakeAnswer | null> {
    const times = lots.map((lot) => lot.atMs);
    const values = [
      siteId,
      named(lots, (lot) => lot.materialCode),
      named(lots, (lot) => lot.jurisdictionId),
      named(lots, (lot) => lot.containerId),
      named(lots, (lot) => lot.instrumentId),
      times.map((atMs) => new Date(atMs).toISOString()),
      new Date(Math.min(...times)).toISOString(),
      new Date(Math.max(...times)).toISOString(),
    ];
    const [row] = await this.database.sql.query<IntakeAnswer>(INTAKE, values, 'intake-facts');
    return row ?? null;
  }

  async permitAt(siteId: string, atMs: number, sql: Sql = this.database.sql): Promise<PermitFacts | null> {
    const at = new Date(atMs).toISOString();
    const [row] = await sql.query<PermitFacts>(PERMIT, [siteId, at], 'permit-at');
    return row ?? null;
  }

  async materialsInUse(): Promise<string[]> {
    const rows = await this.database.sql.query<{ code: string }>(
      `SELECT code FROM material WHERE retired_at IS NULL`,
      [],
      'materials-in-use',
    );
    return rows.map(({ code }) => code);
  }

  async thermometers(siteId: string, ids: readonly string[]): Promise<string[]> {
    const rows = await this.database.sql.query<{ id: string }>(
      `SELECT id FROM instrument WHERE site_id = $1 AND kind = 'thermometer' AND id = ANY($2::uuid[])`,
      [siteId, ids],
      'thermometers',
    );
    return rows.map(({ id }) => id);
  }

  async materials(
    codes: readonly string[] | null,
    at: FiguresAt | null,
    sql: Sql = this.database.sql,
  ): Promise<MaterialRow[]> {
    const place = [at?.siteId ?? null, at && new Date(at.atMs).toISOString()];
    return sql.query<MaterialRow>(MATERIALS, [codes, ...place], 'material-figures');
  }
}

const named = (lots: readonly LotRefs[], of: (lot: LotRefs) => string | undefined) => [
  ...new Set(lots.flatMap((lot) => of(lot) ?? [])),
];
