import { Injectable } from '@nestjs/common';
import type { MaterialFigures } from '#libs/materials';
import { Database, type Prisma } from '#libs/database';
import { Problem } from '../http/problems/catalogue.js';
import { writeAudit } from '../http/writes/audit.records.js';
import type { Write } from '../http/writes/work.js';

export type MaterialRow = Prisma.MaterialModel;
export type MaterialColumns = Prisma.MaterialUncheckedUpdateManyInput;
export type NewMaterialColumns = Prisma.MaterialUncheckedCreateInput;

// Two processes that start at once both find the table empty; the later one's rows then meet the earlier one's.
const INSERT_STARTING = `
  INSERT INTO material (code, name, class, nitrogen_percent_dry, carbon_to_nitrogen, moisture_percent,
                        bulk_density_kg_m3, source, verification, caution)
  SELECT code, name, class, "nitrogenPercentDry", "carbonToNitrogen", "moisturePercent",
         "bulkDensityKgM3", source, verification, caution
  FROM jsonb_to_recordset($1::jsonb) AS m(code text, name text, class text, "nitrogenPercentDry" numeric,
    "carbonToNitrogen" numeric, "moisturePercent" numeric, "bulkDensityKgM3" numeric, source text,
    verification text, caution text)
  WHERE NOT EXISTS (SELECT FROM material)
  ORDER BY code
  ON CONFLICT (code) DO NOTHING
  RETURNING code`;

@Injectable()
export class MaterialsRecords {
  constructor(private readonly database: Database) {}

  async find(code: string): Promise<MaterialRow | null> {
    return this.database.prisma.material.findUnique({ where: { code } });
  }

  async page(limit: number, afterCode: string | null): Promise<MaterialRow[]> {
    return this.database.prisma.material.findMany({
      ...(afterCode === null ? {} : { where: { code: { gt: afterCode } } }),
      orderBy: { code: 'asc' },
      take: limit + 1,
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

  async insert({ prisma }: Write, material: NewMaterialColumns): Promise<MaterialRow> {
    return prisma.material.create({ data: material });
  }

  async change(
    { prisma }: Write,
    code: string,
    version: number,
    change: MaterialColumns,
  ): Promise<MaterialRow> {
    const [row] = await prisma.material.updateManyAndReturn({
      where: { code, version },
      data: { ...change, version: { increment: 1 } },
    });
    if (!row) throw new Problem('changed-meanwhile');
    return row;
  }

  /** Fills an empty table; says how many rows it put there. */
  async load(materials: readonly MaterialFigures[]): Promise<number> {
    return this.database.writeSql(async (sql) => {
      const loaded = await sql.query(INSERT_STARTING, [JSON.stringify(materials.map(rowOf))]);
      if (loaded.length > 0) {
        const line = { action: 'materials.loaded', subjectKind: 'material', subjectId: null, siteId: null };
        await writeAudit(sql, null, [{ ...line, detail: { count: loaded.length } }]);
      }
      return loaded.length;
    });
  }
}

function rowOf({ code, name, class: materialClass, caution, ...figures }: MaterialFigures) {
  const { nitrogenPercentDry, carbonToNitrogen, moisturePercent, bulkDensityKgM3 } = figures;
  const known = [nitrogenPercentDry, carbonToNitrogen, moisturePercent, bulkDensityKgM3].find(
    (one) => one !== null,
  );
  return {
    ...{ code, name, class: materialClass, caution },
    nitrogenPercentDry: nitrogenPercentDry?.typical ?? null,
    carbonToNitrogen: carbonToNitrogen?.typical ?? null,
    moisturePercent: moisturePercent?.typical ?? null,
    bulkDensityKgM3: bulkDensityKgM3?.typical ?? null,
    source: known?.source ?? 'No figure is known.',
    verification: known?.verification ?? 'derived',
  };
}
