import { Injectable } from '@nestjs/common';
import { v7 } from 'uuid';
import { Database, type Prisma } from '#libs/database';
import { Problem } from '../http/problems/catalogue.js';
import type { Write } from '../http/writes/work.js';

// By position, and by code where two were added at one moment.
const withBays = {
  bays: { orderBy: [{ position: 'asc' }, { code: 'asc' }] },
} as const satisfies Prisma.SiteInclude;

export type SiteRow = Prisma.SiteGetPayload<{ include: typeof withBays }>;

export interface NewBay {
  code: string;
  capacityMl: number | null;
  entered: object;
}

@Injectable()
export class SitesRecords {
  constructor(private readonly database: Database) {}

  async find(id: string, prisma: Prisma.TransactionClient = this.database.prisma): Promise<SiteRow | null> {
    return prisma.site.findUnique({ where: { id }, include: withBays });
  }

  /** By code; `siteIds` is null for every site. */
  async page(siteIds: string[] | null, limit: number, afterCode: string | null): Promise<SiteRow[]> {
    return this.database.prisma.site.findMany({
      where: {
        ...(siteIds === null ? {} : { id: { in: siteIds } }),
        ...(afterCode === null ? {} : { code: { gt: afterCode } }),
      },
      orderBy: { code: 'asc' },
      take: limit + 1,
      include: withBays,
    });
  }

  /** Whether the database itself can find local days in this zone. */
  async knowsZone(name: string): Promise<boolean> {
    const rows = await this.database.sql.query('SELECT 1 FROM pg_timezone_names WHERE name = $1', [name]);
    return rows.length > 0;
  }

  async insert(
    { prisma }: Write,
    site: Prisma.SiteUncheckedCreateInput & { id: string },
    bays: readonly NewBay[],
  ): Promise<SiteRow> {
    await prisma.site.create({ data: site });
    await insertBays(prisma, site.id, 0, bays);
    return prisma.site.findUniqueOrThrow({ where: { id: site.id }, include: withBays });
  }

  async change(
    { prisma }: Write,
    id: string,
    version: number,
    change: Prisma.SiteUncheckedUpdateManyInput,
  ): Promise<SiteRow> {
    const { count } = await prisma.site.updateMany({
      where: { id, version },
      data: { ...change, version: { increment: 1 } },
    });
    if (count === 0) throw new Problem('changed-meanwhile');
    return prisma.site.findUniqueOrThrow({ where: { id }, include: withBays });
  }

  /** Puts a bay after those that are there. Raising the version first holds others back meanwhile. */
  async addBay({ prisma }: Write, siteId: string, bay: NewBay): Promise<SiteRow> {
    await prisma.site.update({ where: { id: siteId }, data: { version: { increment: 1 } } });
    const last = await prisma.bay.aggregate({ where: { siteId }, _max: { position: true } });
    await insertBays(prisma, siteId, (last._max.position ?? -1) + 1, [bay]);
    return prisma.site.findUniqueOrThrow({ where: { id: siteId }, include: withBays });
  }
}

async function insertBays(
  prisma: Prisma.TransactionClient,
  siteId: string,
  firstPosition: number,
  bays: readonly NewBay[],
): Promise<void> {
  if (bays.length === 0) return;
  const rows = bays.map((bay, index) => ({ ...bay, id: v7(), siteId, position: firstPosition + index }));
  await prisma.bay.createMany({ data: rows });
}
