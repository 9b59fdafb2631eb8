import { Injectable } from '@nestjs/common';
import type { MaterialFigure } from '#libs/materials';
import { Database } from '#libs/database';
import type { Actor } from '../http/access/actor.js';
import { AuditedStatement } from '../http/writes/audit.records.js';
import { Work } from '../http/writes/work.js';
import type { EnteredMeasurement } from './measurements.dto.js';

export type MeasuredFigures = Record<MaterialFigure, number | null>;

export interface NewMeasurement extends MeasuredFigures {
  id: string;
  siteId: string;
  material: string;
  occurredAt: Date;
  by: string;
  reference: string | null;
  note: string | null;
  entered: EnteredMeasurement;
  bodySha256: Buffer;
}

export interface MeasurementRow extends NewMeasurement {
  recordedAt: Date;
  recordedBy: string;
  voidedAt: Date | null;
  voidReason: string | null;
}

const KEEP = new AuditedStatement<{ id: string }>({
  name: 'measurement-keep',
  action: 'material-measurement.recorded',
  subjectKind: 'material-measurement',
  writes: `
    kept AS (
      INSERT INTO material_measurement (id, site_id, material_code, occurred_at, measured_by, reference,
        nitrogen_percent_dry, carbon_percent_dry, carbon_to_nitrogen, ash_percent_dry, moisture_percent,
        bulk_density_kg_m3, note, entered, body_sha256, recorded_by)
      VALUES ($2, $3, $4, $5, $6, $7, $8, $9, $10, $11, $12, $13, $14, $15, $16, $1)
      ON CONFLICT (id) DO NOTHING RETURNING id, site_id, material_code),
    written AS (
      SELECT id AS subject_id, site_id, jsonb_build_object('material', material_code) AS detail FROM kept)`,
  answers: 'SELECT id FROM kept',
});

const VOID = new AuditedStatement<{ id: string }>({
  name: 'measurement-void',
  action: 'material-measurement.voided',
  subjectKind: 'material-measurement',
  writes: `
    kept AS (
      UPDATE material_measurement SET voided_at = now(), voided_by = $1, void_reason = $3
      WHERE id = $2 AND voided_at IS NULL RETURNING id, site_id, void_reason),
    written AS (SELECT id AS subject_id, site_id, jsonb_build_object('reason', void_reason) AS detail FROM kept)`,
  answers: 'SELECT id FROM kept',
});

const MEASUREMENTS = `SELECT id, site_id AS "siteId", material_code AS material, occurred_at AS "occurredAt",
    measured_by AS by, reference, nitrogen_percent_dry AS "nitrogenPercentDry",
    carbon_percent_dry AS "carbonPercentDry", carbon_to_nitrogen AS "carbonToNitrogen",
    ash_percent_dry AS "ashPercentDry", moisture_percent AS "moisturePercent",
    bulk_density_kg_m3 AS "bulkDensityKgM3", note, entered, body_sha256 AS "bodySha256",
    recorded_at AS "recordedAt", recorded_by AS "recordedBy", voided_at AS "voidedAt", void_reason AS "voidReason"
  FROM material_measurement`;

const PAGE = `${MEASUREMENTS}
  WHERE ($1::uuid[] IS NULL OR site_id = ANY($1)) AND ($2::text IS NULL OR material_code = $2)
    AND ($3::timestamptz IS NULL OR (occurred_at, id) < ($3, $4::uuid))
  ORDER BY occurred_at DESC, id DESC LIMIT $5`;

export interface MeasurementFilter {
  /** Null means every site. */
  sites: string[] | null;
  material: string | null;
  limit: number;
  after: { occurredAt: string; id: string } | null;
}

@Injectable()
export class MeasurementsRecords {
  constructor(
    private readonly database: Database,
    private readonly work: Work,
  ) {}

  /** False when there was one of that id already. */
  async keep(actor: Actor, row: NewMeasurement): Promise<boolean> {
    const { id, siteId, material, occurredAt, by, reference, note, entered, bodySha256 } = row;
    const { nitrogenPercentDry, carbonPercentDry, carbonToNitrogen, ashPercentDry } = row;
    const kept = await this.work.once(actor, KEEP, [
      ...[id, siteId, material, occurredAt, by, reference],
      ...[nitrogenPercentDry, carbonPercentDry, carbonToNitrogen, ashPercentDry],
      ...[row.moisturePercent, row.bulkDensityKgM3, note, JSON.stringify(entered), bodySha256],
    ]);
    return kept.length === 1;
  }

  /** False when it was voided already. */
  async void(actor: Actor, id: string, reason: string): Promise<boolean> {
    return (await this.work.once(actor, VOID, [id, reason])).length === 1;
  }

  async find(id: string): Promise<MeasurementRow | null> {
    const [row] = await this.database.sql.query<MeasurementRow>(
      `${MEASUREMENTS} WHERE id = $1`,
      [id],
      'measurement',
    );
    return row ?? null;
  }

  /** Latest sample first, voided ones included. */
  async page({ sites, material, limit, after }: MeasurementFilter): Promise<MeasurementRow[]> {
    const place = [after?.occurredAt ?? null, after?.id ?? null];
    return this.database.sql.query<MeasurementRow>(
      PAGE,
      [sites, material, ...place, limit + 1],
      'measurements-page',
    );
  }
}
