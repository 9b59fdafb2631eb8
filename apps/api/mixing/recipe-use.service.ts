import { Injectable } from '@nestjs/common';
import {
  type Amount,
  compareRecipe,
  type MaterialFigures,
  missingOf,
  type Recipe,
  type ScaledPart,
  type ScaledRecipe,
  scaleRecipe,
} from '#libs/materials';
import { kgOf, litresOf } from '#libs/quantities';
import type { Actor } from '../http/access/actor.js';
import { Clock } from '../http/clock.js';
import { requireDay } from '../http/dto/period.js';
import { invalid, Problem } from '../http/problems/catalogue.js';
import { SiteFactsService } from '../sites/site-facts.service.js';
import { BuiltService } from './built.service.js';
import { measuredIn, portionWords } from './portions.js';
import { differenceWords, stockWords } from './recipe-words.js';
import type { ComparedRecipeDto, ScaledRecipeDto, ScaledRecipeQuery } from './recipe-use.dto.js';
import type { RecipeDto } from './recipes.dto.js';
import { RecipesService } from './recipes.service.js';
import { type Lying, StockService } from './stock.service.js';
import { type Hub, WaitingRecords } from './waiting.records.js';

/** A recipe with the figures of its materials, and what the yard measures them out in. */
interface Ready {
  recipe: RecipeDto;
  figures: Recipe;
  /** Of the recipe's materials and of all that is there besides. */
  names: Map<string, string>;
  stock: Map<string, Lying>;
}

/** A recipe scaled to what waits, and held against what went in. */
@Injectable()
export class RecipeUseService {
  constructor(
    private readonly recipes: RecipesService,
    private readonly records: WaitingRecords,
    private readonly built: BuiltService,
    private readonly stock: StockService,
    private readonly sites: SiteFactsService,
    private readonly clock: Clock,
  ) {}

  async scaled(actor: Actor, recipeId: string, query: ScaledRecipeQuery): Promise<ScaledRecipeDto> {
    const { day = null } = query;
    if (day !== null) requireDay(day, '/day');
    const recipe = await this.recipes.get(recipeId);
    const hubs = await this.hubsOf(actor, query.hubs);
    const nowMs = this.clock.nowMs();
    const siteIds = hubs.map(({ siteId }) => siteId);
    const yard = { siteId: recipe.siteId, fromAnywhere: query.hubs === undefined };
    const waiting = await this.records.waiting(siteIds, day, yard);
    // An empty list would read as if nothing waited.
    if (hubs.length === 0 && waiting.length === 0)
      throw new Problem(
        'not-allowed',
        'You are an operator at no hub, and nothing that the yard received waits.',
      );
    const available = new Map(waiting.map(({ materialCode, massG }) => [materialCode, massG]));
    const ready = await this.ready(recipe, [...available.keys()], nowMs);
    const scaled = scaleRecipe(ready.figures, available);
    const parts = scaled.parts.map((part) => ({ ...partView(part, ready), ...stockOf(part, ready) }));
    return { ...answerOf(scaled, ready), hubs, day, parts, steps: stepsOf(scaled, ready) };
  }

  /** Held against all that the batch was built of, by the figures of its materials as they were then. */
  async ofBatch(batchId: string, recipeId: string): Promise<ComparedRecipeDto> {
    const { batch, asOfMs, parts } = await this.built.built(batchId);
    const recipe = await this.recipes.find(recipeId);
    if (recipe?.siteId !== batch.siteId) throw invalid('/recipe', 'is no recipe of the yard of this batch');
    const wentIn = new Map(parts.map(({ material, massG }) => [material.code, massG]));
    const ready = await this.ready(recipe, [...wentIn.keys()], asOfMs);
    const compared = compareRecipe(ready.figures, wentIn);
    return {
      ...answerOf(compared, ready),
      batchId,
      parts: compared.parts.map((part) => ({
        ...partView(part, ready),
        differenceKg: part.difference.massG === null ? null : kgOf(part.difference.massG),
        differenceL: part.difference.volumeMl === null ? null : part.difference.volumeMl / 1000,
        differencePercent: tenthOrNull(part.difference.percent),
        text: differenceWords(nameOf(ready, part.materialCode), part),
      })),
    };
  }

  /** The hubs named, or all at which the asker is an operator. */
  private async hubsOf(actor: Actor, named: string | undefined): Promise<Hub[]> {
    if (named === undefined) return this.records.hubs(actor.sitesFor('operator'));
    const ids = [...new Set(named.toLowerCase().split(','))];
    const beyond = ids.find((id) => !actor.mayAt('operator', id));
    if (beyond !== undefined) throw new Problem('other-site', 'You are no operator at each of those hubs.');
    const hubs = await this.records.hubs(ids);
    const unknown = ids.find((id) => !hubs.some(({ siteId }) => siteId === id));
    if (unknown !== undefined) throw invalid('/hubs', `${unknown} is no hub`);
    return hubs;
  }

  private async ready(recipe: RecipeDto, others: readonly string[], atMs: number): Promise<Ready> {
    const codes = new Set([...recipe.parts.map(({ material }) => material), ...others]);
    const figures = await this.sites.materialFigures([...codes], { siteId: recipe.siteId, atMs });
    const byCode = new Map(figures.map((material) => [material.code, material]));
    const parts = recipe.parts.map(({ material, parts: amount, fromDropOffs }) => ({
      ...{ material: required(byCode.get(material)), parts: amount, fromDropOffs },
    }));
    return {
      recipe,
      figures: { basis: recipe.basis, parts },
      names: new Map(figures.map(({ code, name }) => [code, name])),
      stock: await this.stock.lying(recipe.siteId, byCode),
    };
  }
}

function required(material: MaterialFigures | undefined): MaterialFigures {
  if (!material) throw new Error('a material of a recipe is gone');
  return material;
}

const nameOf = ({ names }: Ready, code: string) => names.get(code) ?? code;
const tenthOrNull = (value: number | null) => (value === null ? null : Math.round(value * 10) / 10);
const kgOrNull = (massG: number | null) => (massG === null ? null : kgOf(massG));
const litresOrNull = (volumeMl: number | null) => (volumeMl === null ? null : litresOf(volumeMl));

function answerOf(scaled: ScaledRecipe, ready: Ready) {
  const { id, name, basis } = ready.recipe;
  const other = (material: string, massG: number) => ({
    ...{ material, name: nameOf(ready, material), massKg: kgOf(massG) },
  });
  const present = new Map(scaled.parts.map((part) => [part.materialCode, part.present.massG]));
  return {
    recipe: { id, name, basis },
    notInRecipe: scaled.notInRecipe.map(({ materialCode, massG }) => other(materialCode, massG)),
    missing: scaled.missing.map(({ materialCode, figure }) => ({ material: materialCode, figure })),
    uncounted: scaled.uncounted.map((code) => other(code, present.get(code) ?? 0)),
  };
}

function measuredPart({ materialCode, expected }: ScaledPart, { stock }: Ready) {
  return measuredIn(stock.get(materialCode)?.measure ?? null, expected.volumeMl);
}

function inStockOf({ materialCode, fromDropOffs }: ScaledPart, { stock }: Ready): Amount | null {
  return fromDropOffs ? null : (stock.get(materialCode) ?? null);
}

function stockOf(part: ScaledPart, ready: Ready) {
  const inStock = inStockOf(part, ready);
  const missing = inStock && missingOf(part.expected, inStock);
  return {
    ...{ inStockKg: kgOrNull(inStock?.massG ?? null), inStockL: litresOrNull(inStock?.volumeMl ?? null) },
    ...{ missingKg: kgOrNull(missing?.massG ?? null), missingL: litresOrNull(missing?.volumeMl ?? null) },
  };
}

function partView(part: ScaledPart, ready: Ready) {
  const { materialCode: material, fromDropOffs, expected, present } = part;
  const measured = measuredPart(part, ready);
  return {
    ...{ material, name: nameOf(ready, material), fromDropOffs },
    parts: ready.recipe.parts.find((one) => one.material === material)?.parts ?? 0,
    expectedKg: kgOrNull(expected.massG),
    expectedL: litresOrNull(expected.volumeMl),
    expectedIn: measured && {
      container: measured.code,
      volumeL: litresOf(measured.volumeMl),
      count: measured.halves / 2,
    },
    presentKg: kgOf(present.massG),
    presentL: litresOrNull(present.volumeMl),
  };
}

/** What to take of the parts that do not come with the drop-offs. */
function stepsOf({ parts }: ScaledRecipe, ready: Ready): string[] {
  return parts
    .filter(({ fromDropOffs, expected }) => !fromDropOffs && expected.massG !== 0 && expected.volumeMl !== 0)
    .map((part) => {
      const name = nameOf(ready, part.materialCode);
      const measured = measuredPart(part, ready);
      const words = portionWords({ name, ...part.expected, measured });
      const there = stockWords({ expected: part.expected, inStock: inStockOf(part, ready) }, measured);
      return there === null ? words : `${words}: ${there}`;
    });
}
