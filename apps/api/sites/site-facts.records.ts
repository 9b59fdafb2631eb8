import { Injectable } from '@nestjs/common';
import { Database, type Sql } from '#libs/database';
import type { BayFacts, IntakeFacts, LotRefs, MaterialRow, PermitFacts, SiteFacts } from './site-facts.js';

// numeric leaves the driver as text; these have few digits, and the nearest double prints as they were typed.
const SITE = `SELECT id, code, name, time_zone AS "timeZone", jurisdiction_id AS "jurisdictionId",
    takes_drop_offs AS "takesDropOffs", runs_batches AS "runsBatches", opened_on::text AS "openedOn"
  FROM site WHERE id = $1`;

const BAY = `SELECT id, site_id AS "siteId", code, capacity_ml AS "capacityMl"
  FROM bay WHERE site_id = $1 AND code = $2`;

const ON_LOCAL_DAY = (
  moment: string,
) => `p.site_id = s.id AND p.valid_from <= (${moment} AT TIME ZONE s.time_zone)::date
    AND (p.valid_to IS NULL OR p.valid_to >= (${moment} AT TIME ZONE s.time_zone)::date)`;

const INTAKE = `
  SELECT
    json_build_object('id', s.id, 'code', s.code, 'timeZone', s.time_zone, 'jurisdictionId', s.jurisdiction_id,
      'takesDropOffs', s.takes_drop_offs, 'openedOn', s.opened_on) AS site,
    CASE WHEN m.code IS NOT NULL THEN json_build_object('code', m.code, 'class', m.class, 'bulkDensityKgM3', m.bulk_density_kg_m3,
      'densitySource', m.source, 'retired', m.retired_at IS NOT NULL) END AS material,
    lot.jurisdiction_id IS NULL OR j.id IS NOT NULL AS "jurisdictionKnown",
    CASE WHEN c.id IS NOT NULL THEN json_build_object('id', c.id, 'siteId', c.site_id, 'code', c.code, 'tareG', c.tare_g,
      'volumeMl', c.volume_ml, 'retired', c.retired_at IS NOT NULL) END AS container,
    CASE WHEN i.id IS NOT NULL THEN json_build_object('id', i.id, 'siteId', i.site_id, 'kind', i.kind, 'divisionG', i.division_g,
      'division', i.entered->'division',
      'retired', i.retired_at IS NOT NULL) END AS instrument,
    CASE WHEN p.id IS NOT NULL THEN json_build_object('id', p.id, 'reference', p.reference, 'allowsMaterial',
      NOT EXISTS (SELECT FROM permit_material pm WHERE pm.permit_id = p.id)
      OR EXISTS (SELECT FROM permit_material pm WHERE pm.permit_id = p.id AND pm.material_code = lot.material_code)) END
      AS permit
  FROM site s
  CROSS JOIN unnest($2::text[], $3::uuid[], $4::uuid[], $5::uuid[], $6::timestamptz[])
    WITH ORDINALITY AS lot(material_code, jurisdiction_id, container_id, instrument_id, at, n)
  LEFT JOIN material m ON m.code = lot.material_code
  LEFT JOIN jurisdiction j ON j.id = lot.jurisdiction_id
  LEFT JOIN container c ON c.id = lot.container_id
  LEFT JOIN instrument i ON i.id = lot.instrument_id
  LEFT JOIN permit p ON ${ON_LOCAL_DAY('lot.at')}
  WHERE s.id = $1
  ORDER BY lot.n`;

const PERMIT = `
  SELECT p.id, p.site_id AS "siteId", p.reference, p.valid_from::text AS "validFrom", p.valid_to::text AS "validTo",
    p.process_rule AS "processRule", p.process_reading AS "processReading", p.minimum_probes AS "minimumProbes",
    p.longest_gap_hours AS "longestGapHours", p.cure_days AS "cureDays", p.cure_reheat_deci_c AS "cureReheatDeciC",
    p.stored_volume_max_ml AS "storedVolumeMaxMl", p.yearly_mass_max_g AS "yearlyMassMaxG",
    p.required_samples AS "requiredSamples",
    ARRAY(SELECT pm.material_code FROM permit_material pm WHERE pm.permit_id = p.id ORDER BY 1) AS materials
  FROM site s JOIN permit p ON ${ON_LOCAL_DAY('$2::timestamptz')}
  WHERE s.id = $1`;

const MATERIALS = `
  SELECT code, name, class, nitrogen_percent_dry::float8 AS "nitrogenPercentDry",
    carbon_to_nitrogen::float8 AS "carbonToNitrogen", moisture_percent::float8 AS "moisturePercent",
    bulk_density_kg_m3::float8 AS "bulkDensityKgM3", source, verification, caution
  FROM material WHERE $1::text[] IS NULL OR code = ANY($1) ORDER BY code`;

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

  /** One row a lot, in the order of the lots; none when there is no such site. */
  async intake(siteId: string, lots: readonly LotRefs[]): Promise<IntakeFacts[]> {
    const columns = [
      lots.map((lot) => lot.materialCode ?? null),
      lots.map((lot) => lot.jurisdictionId ?? null),
      lots.map((lot) => lot.containerId ?? null),
      lots.map((lot) => lot.instrumentId ?? null),
      lots.map((lot) => new Date(lot.atMs).toISOString()),
    ];
    return this.database.sql.query<IntakeFacts>(INTAKE, [siteId, ...columns], 'intake-facts');
  }

  async permitAt(siteId: string, atMs: number, sql: Sql = this.database.sql): Promise<PermitFacts | null> {
    const at = new Date(atMs).toISOString();
    const [row] = await sql.query<PermitFacts>(PERMIT, [siteId, at], 'permit-at');
    return row ?? null;
  }

  async thermometers(siteId: string, ids: readonly string[]): Promise<string[]> {
    const rows = await this.database.sql.query<{ id: string }>(
      `SELECT id FROM instrument WHERE site_id = $1 AND kind = 'thermometer' AND id = ANY($2::uuid[])`,
      [siteId, ids],
      'thermometers',
    );
    return rows.map(({ id }) => id);
  }

  async materials(codes: readonly string[] | null): Promise<MaterialRow[]> {
    return this.database.sql.query<MaterialRow>(MATERIALS, [codes], 'material-figures');
  }
}
