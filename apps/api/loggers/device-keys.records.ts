import { Injectable } from '@nestjs/common';
import { Database, type Sql } from '#libs/database';
import type { Device } from '../http/access/device.js';
import type { SqlWrite } from '../http/writes/work.js';

export interface DeviceRow {
  id: string;
  siteId: string;
  code: string;
  name: string | null;
  instrumentId: string | null;
  bays: string[];
  batches: { id: string; code: string }[];
  recordedAt: Date;
  recordedBy: string;
  revokedAt: Date | null;
  lastReadingAt: Date | null;
}

export interface NewDevice {
  id: string;
  siteId: string;
  code: string;
  name: string | null;
  instrumentId: string | null;
  keySha256: Buffer;
}

// The last reading by one look into the index for each probe.
const DEVICE = `
  SELECT d.id, d.site_id AS "siteId", d.code, d.name, d.instrument_id AS "instrumentId",
    ARRAY(SELECT bay.code FROM device_target t JOIN bay ON bay.id = t.bay_id WHERE t.device_id = d.id
          ORDER BY t.id) AS bays,
    coalesce((SELECT json_agg(json_build_object('id', b.id, 'code', b.code) ORDER BY t.id)
              FROM device_target t JOIN batch b ON b.id = t.batch_id WHERE t.device_id = d.id), '[]') AS batches,
    d.recorded_at AS "recordedAt", d.recorded_by AS "recordedBy", d.revoked_at AS "revokedAt",
    (SELECT max(last.at) FROM device_target t JOIN logger_probe p ON p.target_id = t.id
       CROSS JOIN LATERAL (SELECT h.last_at AS at FROM logger_hour h WHERE h.probe_id = p.id
                           ORDER BY h.hour DESC LIMIT 1) AS last
     WHERE t.device_id = d.id) AS "lastReadingAt"
  FROM device d`;

@Injectable()
export class DeviceKeysRecords {
  constructor(private readonly database: Database) {}

  async deviceOf(keySha256: Buffer): Promise<Device | null> {
    const [row] = await this.database.sql.query<Device>(
      `SELECT id, site_id AS "siteId", code FROM device WHERE key_sha256 = $1 AND revoked_at IS NULL`,
      [keySha256],
      'device-of-key',
    );
    return row ?? null;
  }

  async find(id: string, sql: Sql = this.database.sql): Promise<DeviceRow | null> {
    const [row] = await sql.query<DeviceRow>(`${DEVICE} WHERE d.id = $1`, [id]);
    return row ?? null;
  }

  /** The newest first; `sites` null means every site, `after` the id of the last one of the page before. */
  page(sites: string[] | null, limit: number, after: string | null): Promise<DeviceRow[]> {
    return this.database.sql.query<DeviceRow>(
      `${DEVICE} WHERE ($1::uuid[] IS NULL OR d.site_id = ANY ($1)) AND ($2::uuid IS NULL OR d.id < $2)
       ORDER BY d.id DESC LIMIT $3`,
      [sites, after, limit + 1],
    );
  }

  /** Who tells of these bays now, by the code of the bay. */
  claims(siteId: string, bays: readonly string[]): Promise<{ bay: string; device: string }[]> {
    return this.database.sql.query(
      `SELECT bay.code AS bay, d.code AS device FROM device_target t
         JOIN bay ON bay.id = t.bay_id JOIN device d ON d.id = t.device_id
       WHERE bay.site_id = $1 AND bay.code = ANY ($2) AND t.released_at IS NULL`,
      [siteId, bays],
    );
  }

  async insert({ sql, actor }: SqlWrite, device: NewDevice, targets: Targets): Promise<void> {
    const { id, siteId, code, name, instrumentId, keySha256 } = device;
    await sql.query(
      `INSERT INTO device (id, site_id, code, name, instrument_id, key_sha256, recorded_by)
       VALUES ($1, $2, $3, $4, $5, $6, $7)`,
      [id, siteId, code, name, instrumentId, keySha256, actor.personId],
    );
    await sql.query(
      `INSERT INTO device_target (device_id, bay_id, batch_id)
       SELECT $1::uuid, bay_id, NULL::uuid FROM unnest($2::uuid[]) AS bay_id
       UNION ALL SELECT $1::uuid, NULL, batch_id FROM unnest($3::uuid[]) AS batch_id`,
      [id, targets.bayIds, targets.batchIds],
    );
  }

  /** False when it was revoked before. */
  async revoke({ sql, actor }: SqlWrite, id: string): Promise<boolean> {
    const rows = await sql.query(
      `UPDATE device SET revoked_at = now(), revoked_by = $2 WHERE id = $1 AND revoked_at IS NULL RETURNING id`,
      [id, actor.personId],
    );
    await sql.query(
      `UPDATE device_target SET released_at = now() WHERE device_id = $1 AND released_at IS NULL`,
      [id],
    );
    return rows.length === 1;
  }
}

export interface Targets {
  bayIds: string[];
  batchIds: string[];
}
