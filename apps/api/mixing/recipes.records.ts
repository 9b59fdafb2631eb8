import { Injectable } from '@nestjs/common';
import { Database, type Prisma } from '#libs/database';
import { Problem } from '../http/problems/catalogue.js';
import type { Write } from '../http/writes/work.js';

const withParts = { parts: { orderBy: { position: 'asc' } } } as const satisfies Prisma.RecipeInclude;

export type RecipeRow = Prisma.RecipeGetPayload<{ include: typeof withParts }>;
export type RecipeColumns = Prisma.RecipeUncheckedUpdateManyInput;
export type NewRecipeColumns = Prisma.RecipeUncheckedCreateInput & { id: string };

export interface PartColumns {
  materialCode: string;
  parts: number;
  fromDropOffs: boolean;
}

/** A place in a list that goes by site and then by name. */
export interface RecipeKey {
  siteId: string;
  name: string;
}

@Injectable()
export class RecipesRecords {
  constructor(private readonly database: Database) {}

  async find(id: string): Promise<RecipeRow | null> {
    return this.database.prisma.recipe.findUnique({ where: { id }, include: withParts });
  }

  /** `sites` null means every site. */
  async page(sites: string[] | null, limit: number, after: RecipeKey | null): Promise<RecipeRow[]> {
    return this.database.prisma.recipe.findMany({
      where: {
        ...(sites ? { siteId: { in: sites } } : {}),
        ...(after
          ? { OR: [{ siteId: { gt: after.siteId } }, { siteId: after.siteId, name: { gt: after.name } }] }
          : {}),
      },
      orderBy: [{ siteId: 'asc' }, { name: 'asc' }],
      take: limit + 1,
      include: withParts,
    });
  }

  async insert(
    { prisma }: Write,
    recipe: NewRecipeColumns,
    parts: readonly PartColumns[],
  ): Promise<RecipeRow> {
    await prisma.recipe.create({ data: recipe });
    await insertParts(prisma, recipe.id, parts);
    return prisma.recipe.findUniqueOrThrow({ where: { id: recipe.id }, include: withParts });
  }

  /** `parts`, where given, take the place of those before. */
  async change(
    { prisma }: Write,
    id: string,
    version: number,
    change: RecipeColumns,
    parts: readonly PartColumns[] | undefined,
  ): Promise<RecipeRow> {
    const { count } = await prisma.recipe.updateMany({
      where: { id, version },
      data: { ...change, version: { increment: 1 } },
    });
    if (count === 0) throw new Problem('changed-meanwhile');
    if (parts) {
      await prisma.recipePart.deleteMany({ where: { recipeId: id } });
      await insertParts(prisma, id, parts);
    }
    return prisma.recipe.findUniqueOrThrow({ where: { id }, include: withParts });
  }
}

async function insertParts(
  prisma: Prisma.TransactionClient,
  recipeId: string,
  parts: readonly PartColumns[],
): Promise<void> {
  await prisma.recipePart.createMany({
    data: parts.map((part, position) => ({ recipeId, position, ...part })),
  });
}
