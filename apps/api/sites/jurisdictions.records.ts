import { Injectable } from '@nestjs/common';
import { Database } from '#libs/database';
import type { ResidueConvention } from '#libs/accounting';
import { Problem } from '../http/problems/catalogue.js';
import type { Write } from '../http/writes/work.js';

export interface JurisdictionRow {
  id: string;
  name: string;
  reportingYearStart: string;
  residueTo: ResidueConvention;
  version: number;
}

@Injectable()
export class JurisdictionsRecords {
  constructor(private readonly database: Database) {}

  async find(id: string): Promise<JurisdictionRow | null> {
    const row = await this.database.prisma.jurisdiction.findUnique({ where: { id } });
    return row && known(row);
  }

  async page(limit: number, afterName: string | null): Promise<JurisdictionRow[]> {
    const rows = await this.database.prisma.jurisdiction.findMany({
      ...(afterName === null ? {} : { where: { name: { gt: afterName } } }),
      orderBy: { name: 'asc' },
      take: limit + 1,
    });
    return rows.map(known);
  }

  async insert({ prisma }: Write, row: Omit<JurisdictionRow, 'version'>): Promise<JurisdictionRow> {
    return known(await prisma.jurisdiction.create({ data: row }));
  }

  async change(
    { prisma }: Write,
    id: string,
    version: number,
    change: Partial<Pick<JurisdictionRow, 'name' | 'reportingYearStart' | 'residueTo'>>,
  ): Promise<JurisdictionRow> {
    const [row] = await prisma.jurisdiction.updateManyAndReturn({
      where: { id, version },
      data: { ...change, version: { increment: 1 } },
    });
    if (!row) throw new Problem('changed-meanwhile');
    return known(row);
  }
}

/** The database lets in no other convention. */
const known = (row: Omit<JurisdictionRow, 'residueTo'> & { residueTo: string }): JurisdictionRow => ({
  ...row,
  residueTo: row.residueTo as ResidueConvention,
});
