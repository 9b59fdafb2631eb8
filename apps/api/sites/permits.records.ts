import { Injectable } from '@nestjs/common';
import { Database, type Prisma } from '#libs/database';
import { Problem } from '../http/problems/catalogue.js';
import type { Write } from '../http/writes/work.js';

const withMaterials = {
  materials: { orderBy: { materialCode: 'asc' }, select: { materialCode: true } },
} as const satisfies Prisma.PermitInclude;

export type PermitRow = Prisma.PermitGetPayload<{ include: typeof withMaterials }>;
export type PermitColumns = Prisma.PermitUncheckedUpdateManyInput;
export type NewPermitColumns = Prisma.PermitUncheckedCreateInput & { id: string };

/** Lists by site and then by first day, which no two permits of a site share. */
export interface PermitKey {
  siteId: string;
  validFrom: Date;
}

@Injectable()
export class PermitsRecords {
  constructor(private readonly database: Database) {}

  async find(id: string): Promise<PermitRow | null> {
    return this.database.prisma.permit.findUnique({ where: { id }, include: withMaterials });
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
      include: withMaterials,
    });
  }

  async insert(
    { prisma }: Write,
    permit: NewPermitColumns,
    materials: readonly string[],
  ): Promise<PermitRow> {
    await prisma.permit.create({ data: permit });
    await insertMaterials(prisma, permit.id, materials);
    return prisma.permit.findUniqueOrThrow({ where: { id: permit.id }, include: withMaterials });
  }

  /** `materials`, where given, take the place of those before. */
  async change(
    { prisma }: Write,
    id: string,
    version: number,
    change: PermitColumns,
    materials: readonly string[] | undefined,
  ): Promise<PermitRow> {
    const { count } = await prisma.permit.updateMany({
      where: { id, version },
      data: { ...change, version: { increment: 1 } },
    });
    if (count === 0) throw new Problem('changed-meanwhile');
    if (materials) {
      await prisma.permitMaterial.deleteMany({ where: { permitId: id } });
      await insertMaterials(prisma, id, materials);
    }
    return prisma.permit.findUniqueOrThrow({ where: { id }, include: withMaterials });
  }
}

async function insertMaterials(
  prisma: Prisma.TransactionClient,
  permitId: string,
  codes: readonly string[],
): Promise<void> {
  if (codes.length === 0) return;
  await prisma.permitMaterial.createMany({
    data: [...new Set(codes)].map((materialCode) => ({ permitId, materialCode })),
  });
}
