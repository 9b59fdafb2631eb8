import { Injectable } from '@nestjs/common';
import type { SqlWrite } from '../http/writes/work.js';
import { type DistributionRow, DistributionsRecords } from './distributions.records.js';
import { type ReleaseRow, ReleasesRecords, type SignedGate } from './releases.records.js';
import { type SampleRow, SamplesRecords } from './samples.records.js';
import { type ScreeningRow, ScreeningsRecords } from './screenings.records.js';

type Sql = SqlWrite['sql'];

export type { DistributionRow, ReleaseRow, SampleRow, ScreeningRow, SignedGate };

/** A release while it is being signed: what the batch record must say of it. */
export interface Signing extends Omit<ReleaseRow, 'batchId' | 'seal'> {
  role: 'manager' | 'coordinator';
}

/** What the other areas may know of a release: every record that stands, in order of time. Inside a transaction, give its `sql`. */
@Injectable()
export class ReleaseFactsService {
  constructor(
    private readonly samplesKept: SamplesRecords,
    private readonly screeningsKept: ScreeningsRecords,
    private readonly distributionsKept: DistributionsRecords,
    private readonly releases: ReleasesRecords,
  ) {}

  samples(batchId: string, sql?: Sql): Promise<SampleRow[]> {
    return this.samplesKept.standing(batchId, sql);
  }

  screenings(batchId: string, sql?: Sql): Promise<ScreeningRow[]> {
    return this.screeningsKept.standing(batchId, sql);
  }

  distributions(batchId: string, sql?: Sql): Promise<DistributionRow[]> {
    return this.distributionsKept.standing(batchId, sql);
  }

  /** The signature; null while there is none. */
  release(batchId: string, sql?: Sql): Promise<ReleaseRow | null> {
    return this.releases.find(batchId, sql);
  }

  /** Keeps a signature inside a write. The database takes it only while the batch is curing, and only once. */
  async sign(write: SqlWrite, row: ReleaseRow): Promise<void> {
    await this.releases.insert(write, row);
  }
}
