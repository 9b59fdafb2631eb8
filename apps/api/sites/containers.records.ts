import { Injectable } from '@nestjs/common';
import { Database, type Prisma } from '#libs/database';
import { Problem } from '../http/problems/catalogue.js';
import type { Write } from '../http/writes/work.js';
import type { SiteKey } from './site-fields.js';

export type ContainerRow = Prisma.ContainerModel;
export type ContainerColumns = Prisma.ContainerUncheckedUpdateManyInput;

@Injectable()
export class ContainersRecords {
  constructor(private readonly database: Database) {}

  async find(id: string): Promise<ContainerRow | null> {
    return this.database.prisma.container.findUnique({ where: { id } });
  }

  /** `sites` null means every site. */
  async page(sites: string[] | null, limit: number, after: SiteKey | null): Promise<ContainerRow[]> {
    return this.database.prisma.container.findMany({
      where: {
        ...(sites ? { siteId: { in: sites } } : {}),
        ...(after
          ? { OR: [{ siteId: { gt: after.siteId } }, { siteId: after.siteId, code: { gt: after.code } }] }
          : {}),
      },
      orderBy: [{ siteId: 'asc' }, { code: 'asc' }],
      take: limit + 1,
    });
  }

  async insert({ prisma }: Write, container: Prisma.ContainerUncheckedCreateInput): Promise<ContainerRow> {
    return prisma.container.create({ data: container });
  }

  async change(
    { prisma }: Write,
    id: string,
    version: number,
    change: ContainerColumns,
  ): Promise<ContainerRow> {
    const [row] = await prisma.container.updateManyAndReturn({
      where: { id, version },
      data: { ...change, version: { increment: 1 } },
    });
    if (!row) throw new Problem('changed-meanwhile');
    return row;
  }
}
