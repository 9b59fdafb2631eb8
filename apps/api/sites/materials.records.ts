import { Injectable } from '@nestjs/common';
import { type MaterialFigure, materialFigures, type MaterialFigures } from '#libs/materials';
import { Database, type Prisma } from '#libs/database';
import { Problem } from '../http/problems/catalogue.js';
import { writeAudit } from '../http/writes/audit.records.js';
import type { Write } from '../http/writes/work.js';

const withFigures = { figures: true } as const satisfies Prisma.MaterialInclude;

export type MaterialRow = Prisma.MaterialGetPayload<{ include: typeof withFigures }>;
export type MaterialColumns = Prisma.MaterialUncheckedUpdateManyInput;
export type NewMaterialColumns = Prisma.MaterialUncheckedCreateInput;
export type FigureColumns = Omit<Prisma.MaterialFigureModel, 'materialCode' | 'figure'>;
/** What a change says of figures: a null clears one, those left out stay. */
export type FigureChanges = Partial<Record<MaterialFigure, FigureColumns | null>>;

// Two processes that start at once both find the table empty; the later one's rows then meet the earlier one's, and
// figures go in only with the material that they belong to.
const INSERT_STARTING = `
  WITH loaded AS (
    INSERT INTO material (code, name, class, kind, traits, caution, waste_category)
    SELECT code, name, class, kind, traits, caution, waste_category
    FROM jsonb_to_recordset($1::jsonb)
      AS m(code text, name text, class text, kind text, traits text[], caution text, waste_category text)
    WHERE NOT EXISTS (SELECT FROM material)
    ORDER BY code
    ON CONFLICT (code) DO NOTHING
    RETURNING code),
  figures AS (
    INSERT INTO material_figure (material_code, figure, typical, min, max, source, verification)
    SELECT f.* FROM jsonb_to_recordset($2::jsonb)
      AS f(material_code text, figure text, typical float8, min float8, max float8, source text, verification text)
    JOIN loaded ON loaded.code = f.material_code)
  SELECT code FROM loaded`;

@Injectable()
export class MaterialsRecords {
  constructor(private readonly database: Database) {}

  async find(code: string): Promise<MaterialRow | null> {
    return this.database.prisma.material.findUnique({ where: { code }, include: withFigures });
  }

  async page(limit: number, afterCode: string | null): Promise<MaterialRow[]> {
    return this.database.prisma.material.findMany({
      ...(afterCode === null ? {} : { where: { code: { gt: afterCode } } }),
      orderBy: { code: 'asc' },
      take: limit + 1,
      include: withFigures,
    });
  }

  /** Those of the codes that are there. */
  async known(codes: readonly string[]): Promise<string[]> {
    const rows = await this.database.prisma.material.findMany({
      where: { code: { in: [...codes] } },
      select: { code: true },
    });
    return rows.map((row) => row.code);
  }

  async insert(
    { prisma }: Write,
    material: NewMaterialColumns,
    figures: FigureChanges,
  ): Promise<MaterialRow> {
    await prisma.material.create({ data: material });
    await replaceFigures(prisma, material.code, figures);
    return prisma.material.findUniqueOrThrow({ where: { code: material.code }, include: withFigures });
  }

  async change(
    { prisma }: Write,
    code: string,
    version: number,
    change: MaterialColumns,
    figures: FigureChanges,
  ): Promise<MaterialRow> {
    const { count } = await prisma.material.updateMany({
      where: { code, version },
      data: { ...change, version: { increment: 1 } },
    });
    if (count === 0) throw new Problem('changed-meanwhile');
    await replaceFigures(prisma, code, figures);
    return prisma.material.findUniqueOrThrow({ where: { code }, include: withFigures });
  }

  /** Fills an empty table; says how many materials it put there. */
  async load(
    materials: readonly MaterialFigures[],
    wasteCategories: Readonly<Partial<Record<string, string>>>,
  ): Promise<number> {
    return this.database.writeSql(async (sql) => {
      const rows = materials.map((material) => ({
        ...material,
        waste_category: wasteCategories[material.code],
      }));
      const figures = materials.flatMap(figureRows);
      const loaded = await sql.query(INSERT_STARTING, [JSON.stringify(rows), JSON.stringify(figures)]);
      if (loaded.length > 0) {
        const line = { action: 'materials.loaded', subjectKind: 'material', subjectId: null, siteId: null };
        await writeAudit(sql, null, [{ ...line, detail: { count: loaded.length } }]);
      }
      return loaded.length;
    });
  }
}

async function replaceFigures(
  prisma: Prisma.TransactionClient,
  materialCode: string,
  changes: FigureChanges,
): Promise<void> {
  const named = materialFigures.filter((figure) => changes[figure] !== undefined);
  if (named.length === 0) return;
  await prisma.materialFigure.deleteMany({ where: { materialCode, figure: { in: named } } });
  const data = named.flatMap((figure) => {
    const columns = changes[figure];
    return columns ? [{ materialCode, figure, ...columns }] : [];
  });
  if (data.length > 0) await prisma.materialFigure.createMany({ data });
}

function figureRows(material: MaterialFigures) {
  return materialFigures.flatMap((figure) => {
    const known = material[figure];
    return known ? [{ material_code: material.code, figure, ...known }] : [];
  });
}
