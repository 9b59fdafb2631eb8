import { Injectable } from '@nestjs/common';
import type { RecipeBasis } from '#libs/materials';
import type { Actor } from '../http/access/actor.js';
import { Clock } from '../http/clock.js';
import { idOr } from '../http/dto/id.js';
import { keyOf, type Page, pageOf } from '../http/dto/paging.js';
import { type Fault, invalid, notFound, Problem } from '../http/problems/catalogue.js';
import { given } from '../http/writes/given.js';
import { retirement } from '../http/writes/retirement.js';
import { SettingWork } from '../http/writes/setting-work.js';
import { SiteFactsService } from '../sites/site-facts.service.js';
import type { NewRecipeDto, RecipeChangeDto, RecipeDto, RecipePartDto, RecipesQuery } from './recipes.dto.js';
import { type PartColumns, type RecipeRow, RecipesRecords } from './recipes.records.js';

const subject = (id: string, siteId: string) => ({ kind: 'recipe', id, siteId });

/** What a yard usually mixes. */
@Injectable()
export class RecipesService {
  constructor(
    private readonly work: SettingWork,
    private readonly clock: Clock,
    private readonly recipes: RecipesRecords,
    private readonly sites: SiteFactsService,
  ) {}

  async list(actor: Actor, { siteId, limit, cursor }: RecipesQuery): Promise<Page<RecipeDto>> {
    const key = keyOf(cursor, 'id', 'text');
    const after = key && { siteId: String(key[0]), name: String(key[1]) };
    const rows = await this.recipes.page(actor.sitesFor('operator', siteId), limit, after);
    return pageOf(rows, limit, (row) => [row.siteId, row.name], recipeView);
  }

  async find(id: string): Promise<RecipeDto | null> {
    const row = await this.recipes.find(id);
    return row && recipeView(row);
  }

  async get(id: string): Promise<RecipeDto> {
    const recipe = await this.find(id);
    if (!recipe) throw notFound('recipe');
    return recipe;
  }

  async create(actor: Actor, dto: NewRecipeDto): Promise<RecipeDto> {
    const { name, basis, note = null } = dto;
    const { id: siteId, code, runsBatches } = await this.sites.site(dto.siteId);
    if (!runsBatches) throw invalid('/siteId', `${code} runs no batches`);
    await this.requireParts(dto.parts);
    const id = idOr(dto.id);
    return this.work.add(actor, subject(id, siteId), async (write) =>
      recipeView(await this.recipes.insert(write, { id, siteId, name, basis, note }, columnsOf(dto.parts))),
    );
  }

  async change(actor: Actor, id: string, version: number, dto: RecipeChangeDto): Promise<RecipeDto> {
    const before = await this.get(id);
    const { name, basis, note, parts } = dto;
    if (parts) await this.requireParts(parts);
    const change = {
      ...given({ name, basis, note }),
      ...retirement(dto.retired, before.retired, this.clock.nowMs()),
    };
    return this.work.change(actor, subject(id, before.siteId), version, before, async (write) =>
      recipeView(await this.recipes.change(write, id, version, change, parts && columnsOf(parts))),
    );
  }

  private async requireParts(parts: readonly RecipePartDto[]): Promise<void> {
    const codes = parts.map(({ material }) => material);
    const known = new Set((await this.sites.materialFigures(codes)).map(({ code }) => code));
    const faults = codes.flatMap((code, index): Fault[] => {
      const pointer = `/parts/${index}/material`;
      if (!known.has(code)) return [{ pointer, detail: `"${code}" is no material of the list` }];
      return codes.indexOf(code) < index ? [{ pointer, detail: `"${code}" is in it twice` }] : [];
    });
    if (faults.length > 0) throw new Problem('invalid', undefined, faults);
    if (parts.every(({ fromDropOffs }) => fromDropOffs))
      throw invalid('/parts', 'must hold something that does not come with the drop-offs');
    if (!parts.some(({ fromDropOffs }) => fromDropOffs))
      throw invalid('/parts', 'must hold something that comes with the drop-offs');
  }
}

const columnsOf = (parts: readonly RecipePartDto[]): PartColumns[] =>
  parts.map(({ material, parts: amount, fromDropOffs }) => ({
    materialCode: material,
    parts: amount,
    fromDropOffs,
  }));

function recipeView(row: RecipeRow): RecipeDto {
  const { id, siteId, name, note, version } = row;
  return {
    ...{ id, siteId, name, note, version },
    basis: row.basis as RecipeBasis,
    parts: row.parts.map(({ materialCode, parts, fromDropOffs }) => ({
      material: materialCode,
      parts,
      fromDropOffs,
    })),
    retired: row.retiredAt !== null,
  };
}
