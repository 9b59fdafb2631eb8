import { Injectable } from '@nestjs/common';
import { Database, type Prisma } from '#libs/database';
import { Problem } from '../http/problems/catalogue.js';
import type { Write } from '../http/writes/work.js';

const withLists = {
  materials: { orderBy: { materialCode: 'asc' }, select: { materialCode: true } },
  mixTargets: { select: { figure: true, min: true, max: true } },
} as const satisfies Prisma.PermitInclude;

export type PermitRow = Prisma.PermitGetPayload<{ include: typeof withLists }>;
export type PermitColumns = Prisma.PermitUncheckedUpdateManyInput;
export type NewPermitColumns = Prisma.PermitUncheckedCreateInput & { id: string };

/** What a permit has several of; each, where given, takes the place of those before. */
export interface PermitLists {
  materials: readonly string[] | undefined;
  mixTargets: readonly { figure: string; min?: number; max?: number }[] | undefined;
}

/** Lists by site and then by first day, which no two permits of a site share. */
export interface PermitKey {
  siteId: string;
  validFrom: Date;
}

@Injectable()
export class PermitsRecords {
  constructor(private readonly database: Database) {}

  async find(id: string): Promise<PermitRow | null> {
    return this.database.prisma.permit.findUnique({ where: { id }, include: withLists });
  }

  /** `sites` null means every site. */
  async page(sites: string[] | null, limit: number, after: PermitKey | null): Promise<PermitRow[]> {
    return this.database.prisma.permit.findMany({
      where: {
        ...(sites ? { siteId: { in: sites } } : {}),
        ...(after
          ? {
              OR: [
                { siteId: { gt: after.siteId } },
                { siteId: after.siteId, validFrom: { gt: after.validFrom } },
              ],
            }
          : {}),
      },
      orderBy: [{ siteId: 'asc' }, { validFrom: 'asc' }],
      take: limit + 1,
      include: withLists,
    });
  }

  async insert({ prisma }: Write, permit: NewPermitColumns, lists: PermitLists): Promise<PermitRow> {
    await prisma.permit.create({ data: permit });
    await replaceLists(prisma, permit.id, lists);
    return prisma.permit.findUniqueOrThrow({ where: { id: permit.id }, include: withLists });
  }

  async change(
    { prisma }: Write,
    id: string,
    version: number,
    change: PermitColumns,
    lists: PermitLists,
  ): Promise<PermitRow> {
    const { count } = await prisma.permit.updateMany({
      where: { id, version },
      data: { ...change, version: { increment: 1 } },
    });
    if (count === 0) throw new Problem('changed-meanwhile');
    await replaceLists(prisma, id, lists);
    return prisma.permit.findUniqueOrThrow({ where: { id }, include: withLists });
  }
}

async function replaceLists(
  prisma: Prisma.TransactionClient,
  permitId: string,
  { materials, mixTargets }: PermitLists,
): Promise<void> {
  if (materials) {
    await prisma.permitMaterial.deleteMany({ where: { permitId } });
    const codes = [...new Set(materials)];
    await prisma.permitMaterial.createMany({
      data: codes.map((materialCode) => ({ permitId, materialCode })),
    });
  }
  if (mixTargets) {
    await prisma.permitMixTarget.deleteMany({ where: { permitId } });
    await prisma.permitMixTarget.createMany({ data: mixTargets.map((one) => ({ ...one, permitId })) });
  }
}
