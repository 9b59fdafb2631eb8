import { type RecipeBasis, recipeBases } from '#libs/materials';
import { Flag, ListOf, MaterialCode, Num, OneOf, Text, Uuid, Whole } from '../http/dto/fields.js';
import { PageQuery } from '../http/dto/paging.js';

const NAME = 80;
const NOTE = 2000;
const MOST_PARTS = 20;

export class RecipePartDto {
  @MaterialCode() material!: string;
  @Num(0.001, 10_000, { example: 2 }) parts!: number;
  @Flag({ description: 'It comes with the drop-offs; what does not is taken from stock to go with it' })
  fromDropOffs!: boolean;
}

const partsList = (optional: boolean) =>
  ListOf(() => RecipePartDto, MOST_PARTS, {
    ...{ optional, min: 2 },
    description: 'Each material once; at least one that comes with the drop-offs and one that does not',
  });
const basisOf = (optional: boolean) =>
  OneOf(recipeBases, {
    optional,
    description: 'What the parts are parts of: wet mass, or volume as it lies',
  });

export class NewRecipeDto {
  @Uuid({ optional: true }) id?: string;
  @Uuid() siteId!: string;
  @Text(NAME, { oneLine: true, example: 'Usual mix' }) name!: string;
  @basisOf(false) basis!: RecipeBasis;
  @partsList(false) parts!: RecipePartDto[];
  @Text(NOTE, { optional: true }) note?: string;
}

export class RecipeChangeDto {
  @Text(NAME, { optional: true, oneLine: true }) name?: string;
  @basisOf(true) basis?: RecipeBasis;
  @partsList(true) parts?: RecipePartDto[];
  @Text(NOTE, { optional: true, nullable: true }) note?: string | null;
  @Flag({ optional: true }) retired?: boolean;
}

export class RecipesQuery extends PageQuery {
  @Uuid({ optional: true, description: 'Only of this yard' }) siteId?: string;
}

export class RecipeDto {
  @Uuid() id!: string;
  @Uuid() siteId!: string;
  @Text(NAME) name!: string;
  @basisOf(false) basis!: RecipeBasis;
  @ListOf(() => RecipePartDto, MOST_PARTS) parts!: RecipePartDto[];
  @Text(NOTE, { nullable: true }) note!: string | null;
  @Flag() retired!: boolean;
  @Whole(1, 1e9) version!: number;
}

export class RecipePageDto {
  @ListOf(() => RecipeDto, 200) items!: RecipeDto[];
  @Text(400, { nullable: true }) next!: string | null;
}
