import {
  type FactorUsed,
  type GreenhouseSetCode,
  greenhouseSetCodes,
  type WasteCategory,
  wasteCategories,
} from '#libs/accounting';
import { ListOf, Num, OneOf, Text, TextList } from '../http/dto/fields.js';

const SENTENCE = 2_000;

class GreenhouseFactorDto implements FactorUsed {
  @Text(200) name!: string;
  @Num(-1e6, 1e6) value!: number;
  @Text(60) unit!: string;
  @Text(SENTENCE, { description: 'And how far it was checked' }) source!: string;
}

export class GreenhouseSetDto {
  @OneOf(greenhouseSetCodes) code!: GreenhouseSetCode;
  @Text(200) title!: string;
  @Text(200) version!: string;
  @Text(SENTENCE) source!: string;
  @Text(SENTENCE, { description: 'How far its factors were checked' }) checked!: string;
  @TextList(/^/, wasteCategories.length, {
    values: wasteCategories,
    description: 'Waste categories that it has factors for; others are told as unknown',
  })
  categories!: WasteCategory[];
  @ListOf(() => GreenhouseFactorDto, 100) factors!: FactorUsed[];
  @TextList(/./s, 20, { description: 'What an estimate by it is and is not' }) notes!: string[];
}

export class GreenhouseSetsDto {
  @ListOf(() => GreenhouseSetDto, 100) items!: GreenhouseSetDto[];
}
