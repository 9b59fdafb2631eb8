import { Injectable } from '@nestjs/common';
import { Database } from '#libs/database';

/** A sealed batch record that its yard lets anybody read in short. */
export interface PublicRecordRow {
  /** Canonical JSON, as it was sealed. */
  document: string;
  /** Now, whatever was so when it was sealed. */
  onHold: boolean;
}

const FIND = `
  SELECT d.document,
    EXISTS (SELECT FROM batch_hold h WHERE h.batch_id = b.id AND h.lifted_at IS NULL) AS "onHold"
  FROM sealed_document d JOIN batch b ON b.id = d.subject_id JOIN site s ON s.id = b.site_id AND s.public_records
  WHERE d.seal = $1 AND d.kind = 'batch-record'`;

@Injectable()
export class PublicRecordsRecords {
  constructor(private readonly database: Database) {}

  /** Null where nothing has that seal, and where its yard does not show its records. */
  async find(seal: string): Promise<PublicRecordRow | null> {
    const [row] = await this.database.sql.query<PublicRecordRow>(FIND, [seal], 'public-record');
    return row ?? null;
  }
}
