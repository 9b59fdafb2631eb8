import { Injectable } from '@nestjs/common';
import { Database, type Prisma, type Sql } from '#libs/database';
import { Problem } from '../http/problems/catalogue.js';
import type { Write } from '../http/writes/work.js';
import type { SiteKey } from './site-fields.js';

export interface InstrumentRow {
  id: string;
  siteId: string;
  code: string;
  kind: string;
  divisionG: number | null;
  resolutionDeciC: number | null;
  verifyEveryDays: number | null;
  entered: object;
  retiredAt: Date | null;
  version: number;
  timeZone: string;
  lastVerifiedAt: Date | null;
  lastPassed: boolean | null;
}

export type InstrumentColumns = Prisma.InstrumentUncheckedUpdateManyInput;

// With its last verification, found by one look into the index for each instrument.
const INSTRUMENT = `
  SELECT i.id, i.site_id AS "siteId", i.code, i.kind, i.division_g::float8 AS "divisionG",
    i.resolution_deci_c AS "resolutionDeciC", i.verify_every_days AS "verifyEveryDays", i.entered,
    i.retired_at AS "retiredAt", i.version, s.time_zone AS "timeZone",
    last.occurred_at AS "lastVerifiedAt", last.passed AS "lastPassed"
  FROM instrument i JOIN site s ON s.id = i.site_id
  LEFT JOIN LATERAL (
    SELECT v.occurred_at, v.passed FROM instrument_verification v WHERE v.instrument_id = i.id
    ORDER BY v.occurred_at DESC, v.id DESC LIMIT 1) AS last ON true`;

const PAGE = `${INSTRUMENT}
  WHERE ($1::uuid[] IS NULL OR i.site_id = ANY ($1))
    AND ($2::uuid IS NULL OR (i.site_id, i.code) > ($2, $3::text))
  ORDER BY i.site_id, i.code LIMIT $4`;

@Injectable()
export class InstrumentsRecords {
  constructor(private readonly database: Database) {}

  async find(id: string, sql: Sql = this.database.sql): Promise<InstrumentRow | null> {
    const [row] = await sql.query<InstrumentRow>(`${INSTRUMENT} WHERE i.id = $1`, [id]);
    return row ?? null;
  }

  /** `sites` null means every site. */
  async page(sites: string[] | null, limit: number, after: SiteKey | null): Promise<InstrumentRow[]> {
    const values = [sites, after?.siteId ?? null, after?.code ?? null, limit + 1];
    return this.database.sql.query<InstrumentRow>(PAGE, values);
  }

  async insert({ prisma }: Write, instrument: Prisma.InstrumentUncheckedCreateInput): Promise<void> {
    await prisma.instrument.create({ data: instrument });
  }

  async change({ prisma }: Write, id: string, version: number, change: InstrumentColumns): Promise<void> {
    const { count } = await prisma.instrument.updateMany({
      where: { id, version },
      data: { ...change, version: { increment: 1 } },
    });
    if (count === 0) throw new Problem('changed-meanwhile');
  }
}
