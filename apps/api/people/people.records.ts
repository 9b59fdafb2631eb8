import { Injectable } from '@nestjs/common';
import { v7 } from 'uuid';
import { Database, type Prisma } from '#libs/database';
import type { Grant, Role } from '../http/access/actor.js';
import { Problem } from '../http/problems/catalogue.js';
import type { Write } from '../http/writes/work.js';

const withGrants = { grants: { orderBy: { id: 'asc' } } } as const satisfies Prisma.PersonInclude;

export interface PersonRow {
  id: string;
  email: string;
  displayName: string;
  passwordHash: string;
  disabledAt: Date | null;
  version: number;
  createdAt: Date;
  grants: Grant[];
}

function rowOf(person: Prisma.PersonGetPayload<{ include: typeof withGrants }>): PersonRow {
  const grants = person.grants.map(({ role, siteId, jurisdictionId }) => ({
    role: role as Role,
    siteId,
    jurisdictionId,
  }));
  return { ...person, grants };
}

@Injectable()
export class PeopleRecords {
  constructor(private readonly database: Database) {}

  async find(id: string): Promise<PersonRow | null> {
    const person = await this.database.prisma.person.findUnique({ where: { id }, include: withGrants });
    return person && rowOf(person);
  }

  async findByEmail(email: string): Promise<PersonRow | null> {
    const person = await this.database.prisma.person.findUnique({ where: { email }, include: withGrants });
    return person && rowOf(person);
  }

  async page(limit: number, after: string | null): Promise<PersonRow[]> {
    const people = await this.database.prisma.person.findMany({
      ...(after ? { where: { id: { gt: after } } } : {}),
      orderBy: { id: 'asc' },
      take: limit + 1,
      include: withGrants,
    });
    return people.map(rowOf);
  }

  async anyone({ prisma }: Pick<Write, 'prisma'> = this.database): Promise<boolean> {
    return (await prisma.person.findFirst({ select: { id: true } })) !== null;
  }

  /** Makes others wait who would change as well who coordinates, until this write is over. */
  async holdCoordinators({ sql }: Write): Promise<void> {
    await sql.query(`SELECT pg_advisory_xact_lock(hashtextextended('coordinators', 0))`);
  }

  /** Whether somebody who may sign in is a coordinator. */
  async anyCoordinator({ prisma }: Write): Promise<boolean> {
    const where = { role: 'coordinator', person: { disabledAt: null } };
    return (await prisma.roleGrant.findFirst({ where, select: { id: true } })) !== null;
  }

  async insert(
    { prisma }: Pick<Write, 'prisma'>,
    person: Pick<PersonRow, 'id' | 'email' | 'displayName' | 'passwordHash' | 'grants'>,
  ): Promise<void> {
    const { grants, ...columns } = person;
    await prisma.person.create({ data: columns });
    await this.insertGrants({ prisma }, person.id, grants);
  }

  /** Changes columns against a version; refuses when somebody was quicker. */
  async change(
    { prisma }: Write,
    id: string,
    version: number,
    change: { displayName?: string; passwordHash?: string; disabledAt?: Date | null },
  ): Promise<void> {
    const { count } = await prisma.person.updateMany({
      where: { id, version },
      data: { ...change, version: { increment: 1 } },
    });
    if (count === 0) throw new Problem('changed-meanwhile');
  }

  async replaceGrants({ prisma }: Write, personId: string, grants: readonly Grant[]): Promise<void> {
    await prisma.roleGrant.deleteMany({ where: { personId } });
    await this.insertGrants({ prisma }, personId, grants);
  }

  private async insertGrants(
    { prisma }: Pick<Write, 'prisma'>,
    personId: string,
    grants: readonly Grant[],
  ): Promise<void> {
    if (grants.length === 0) return;
    await prisma.roleGrant.createMany({ data: grants.map((grant) => ({ ...grant, id: v7(), personId })) });
  }
}
