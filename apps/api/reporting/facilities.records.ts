import { Injectable } from '@nestjs/common';
import type { Facility } from '#libs/documents';
import { Database, type Sql } from '#libs/database';
import { FACILITIES } from './facilities-sql.js';

export type { Sql };

/** Yards of a jurisdiction, or one site of any kind; exactly one of the two. Local days, `to` excluded. */
export interface FacilitiesAsked {
  jurisdictionId?: string;
  siteId?: string;
  from: string;
  to: string;
}

interface Mass {
  massG: number;
}
interface Volume {
  volumeMl: number | null;
}
type EstimatedMaterial = Mass & { material: string; name: string; estimatedG: number };

/** As the database sums it, in grams and millilitres. */
export interface FacilityRow extends Pick<
  Facility,
  'code' | 'name' | 'permits' | 'releases' | 'samples' | 'complaints'
> {
  receivedByMaterial: EstimatedMaterial[];
  receivedByOrigin: (Mass & { jurisdiction: string })[];
  bulking: EstimatedMaterial[];
  waterG: number;
  processed: Mass & { batches: number };
  /** Those in which anything lay. */
  heaps: (Mass & Volume & { stage: Facility['onSite'][number]['stage'] })[];
  produced: Mass & Volume & { batches: number };
  distributed: (Mass & Volume & { use: string; recipient: string; count: number })[];
  residue: (Mass & { wentTo: string })[];
}

@Injectable()
export class FacilitiesRecords {
  constructor(private readonly database: Database) {}

  async of(sql: Sql, { jurisdictionId, siteId, from, to }: FacilitiesAsked): Promise<FacilityRow[]> {
    const values = [jurisdictionId ?? null, siteId ?? null, from, to];
    return sql.query<FacilityRow>(FACILITIES, values, 'facilities');
  }

  /** All that `work` reads is of one moment. */
  atOneMoment<T>(work: (sql: Sql) => Promise<T>): Promise<T> {
    return this.database.readSnapshot(work);
  }

  async reportingYearStart(siteId: string): Promise<string | null> {
    const [row] = await this.database.sql.query<{ start: string }>(
      `SELECT j.reporting_year_start AS start FROM site s JOIN jurisdiction j ON j.id = s.jurisdiction_id WHERE s.id = $1`,
      [siteId],
      'reporting-year-of-site',
    );
    return row?.start ?? null;
  }
}
