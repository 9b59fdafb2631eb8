import { Injectable } from '@nestjs/common';
import type { EntryBasis } from '#libs/accounting';
import { Database } from '#libs/database';
import type { CompostUse } from './distributions.dto.js';

export interface LabelRow {
  batch: string;
  code: string;
  site: string;
  timeZone: string;
  occurredAt: Date;
  use: CompostUse;
  massG: number;
  volumeMl: number | null;
  basis: EntryBasis;
  voided: boolean;
  onHold: boolean;
  /** Of the batch record; null where its yard does not show it to everybody. */
  publicSeal: string | null;
}

const FIND = `
  SELECT b.code AS batch, b.code || '/' || d.number AS code, s.name AS site, s.time_zone AS "timeZone",
         d.occurred_at AS "occurredAt", d.use, d.mass_g AS "massG", d.volume_ml AS "volumeMl", d.basis,
         d.voided_at IS NOT NULL AS voided,
         EXISTS (SELECT FROM batch_hold h WHERE h.batch_id = b.id AND h.lifted_at IS NULL) AS "onHold",
         CASE WHEN s.public_records THEN r.seal END AS "publicSeal"
    FROM distribution d JOIN batch b ON b.id = d.batch_id JOIN site s ON s.id = b.site_id
    LEFT JOIN release r ON r.batch_id = b.id
    WHERE d.id = $2 AND d.batch_id = $1`;

@Injectable()
export class LabelsRecords {
  constructor(private readonly database: Database) {}

  /** Null where the batch has no such distribution. */
  async find(batchId: string, id: string): Promise<LabelRow | null> {
    const [row] = await this.database.sql.query<LabelRow>(FIND, [batchId, id], 'distribution-label');
    return row ?? null;
  }
}
