import { Injectable } from '@nestjs/common';
import { Database } from '#libs/database';

export interface BuildingBatch {
  id: string;
  code: string;
}

@Injectable()
export class WantedRecords {
  constructor(private readonly database: Database) {}

  /** What is being built at the yard, in order of code. */
  async building(siteId: string): Promise<BuildingBatch[]> {
    return this.database.sql.query<BuildingBatch>(
      `SELECT id, code FROM batch_now WHERE site_id = $1 AND stage = 'building' ORDER BY code`,
      [siteId],
      'batches-building',
    );
  }
}
