import { type RecipeBasis, recipeBases } from '#libs/materials';
import {
  Flag,
  ListOf,
  LocalDate,
  MaterialCode,
  Nested,
  Num,
  OneOf,
  Pattern,
  SENTENCE,
  Text,
  TextList,
  Uuid,
} from '../http/dto/fields.js';
import { MissingFigureDto } from './mix.dto.js';

const MOST = 1e12;
const unknown = { nullable: true, description: 'Null when unknown' };
const UUID = '[0-9a-fA-F]{8}-(?:[0-9a-fA-F]{4}-){3}[0-9a-fA-F]{12}';

export class ScaledRecipeQuery {
  @Pattern(new RegExp(`^${UUID}(,${UUID}){0,49}$`), 'ids of hubs, with commas between them', {
    optional: true,
    description: 'Hubs whose drop-offs are meant, by their ids; all at which one is an operator, if left out',
  })
  hubs?: string;
  @LocalDate({ optional: true, description: 'Only what came on that local day of the hub' }) day?: string;
}

export class BatchRecipeQuery {
  @Uuid({ description: 'A recipe of the batch’s own yard' }) recipe!: string;
}

export class RecipeRefDto {
  @Uuid() id!: string;
  @Text(80) name!: string;
  @OneOf(recipeBases) basis!: RecipeBasis;
}

export class HubRefDto {
  @Uuid() siteId!: string;
  @Text(12) code!: string;
}

/** In containers of the yard, to the nearest half. */
export class InContainersDto {
  @Text(24) container!: string;
  @Num(0, 200_000, { description: 'Of one container' }) volumeL!: number;
  @Num(0, MOST, { example: 5.5 }) count!: number;
}

export class ScaledPartDto {
  @MaterialCode() material!: string;
  @Text(120) name!: string;
  @Num(0, 10_000) parts!: number;
  @Flag() fromDropOffs!: boolean;
  @Num(0, MOST, unknown) expectedKg!: number | null;
  @Num(0, MOST, unknown) expectedL!: number | null;
  @Nested(() => InContainersDto, {
    nullable: true,
    description: 'Where the yard counts the material in containers',
  })
  expectedIn!: InContainersDto | null;
  @Num(0, MOST) presentKg!: number;
  @Num(0, MOST, unknown) presentL!: number | null;
}

/** A part with what lies in stock of it; of what comes with the drop-offs, and of what was never counted, all null. */
export class PartToTakeDto extends ScaledPartDto {
  @Num(0, MOST, unknown) inStockKg!: number | null;
  @Num(0, MOST, unknown) inStockL!: number | null;
  @Num(0, MOST, { nullable: true, description: 'Of what the recipe has, beyond what lies in stock' })
  missingKg!: number | null;
  @Num(0, MOST, unknown) missingL!: number | null;
}

export class OtherMaterialDto {
  @MaterialCode() material!: string;
  @Text(120) name!: string;
  @Num(0, MOST) massKg!: number;
}

class RecipeAnswerDto {
  @Nested(() => RecipeRefDto) recipe!: RecipeRefDto;
  @ListOf(() => OtherMaterialDto, 1000, { description: 'In no part of the recipe' })
  notInRecipe!: OtherMaterialDto[];
  @ListOf(() => MissingFigureDto, 1000, { description: 'Without these an amount above is unknown' })
  missing!: MissingFigureDto[];
  @ListOf(() => OtherMaterialDto, 1000, {
    description:
      'Came with the drop-offs and is not counted: parts are by volume, and its density is unknown',
  })
  uncounted!: OtherMaterialDto[];
}

export class ScaledRecipeDto extends RecipeAnswerDto {
  @ListOf(() => HubRefDto, 10_000) hubs!: HubRefDto[];
  @LocalDate({ nullable: true }) day!: string | null;
  @ListOf(() => PartToTakeDto, 20) parts!: PartToTakeDto[];
  @TextList(SENTENCE, 20, { description: 'What to take of the rest, in words' }) steps!: string[];
}

export class ComparedPartDto extends ScaledPartDto {
  @Num(-MOST, MOST, { nullable: true, description: 'What went in less what the recipe would have had' })
  differenceKg!: number | null;
  @Num(-MOST, MOST, unknown) differenceL!: number | null;
  @Num(-MOST, MOST, { nullable: true, description: 'Of what the recipe would have had' })
  differencePercent!: number | null;
  @Text(400, { description: 'The same in a sentence' }) text!: string;
}

export class ComparedRecipeDto extends RecipeAnswerDto {
  @Uuid() batchId!: string;
  @ListOf(() => ComparedPartDto, 20, { description: '`present` is what went in, by whatever way' })
  parts!: ComparedPartDto[];
}
