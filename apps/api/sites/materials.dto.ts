import { type WasteCategory, wasteCategories } from '#libs/accounting';
import {
  type MaterialClass,
  materialClasses,
  type MaterialKind,
  materialKinds,
  type MaterialTrait,
  materialTraits,
} from '#libs/materials';
import { Flag, ListOf, MaterialCode, OneOf, Text, TextList, Whole } from '../http/dto/fields.js';
import { EnteredFiguresDto, KnownFiguresDto } from './material-figures.dto.js';

const CAUTION = 1_000;
const NAME = 120;
const KIND =
  '`mineral` and `inert-carbon` add dry matter, but neither carbon nor nitrogen that counts; `water` is all moisture';

const WASTE_CATEGORY =
  'What it is to those who count waste: greenhouse factors are published for these. Null while nobody has said';

const Traits = (optional: boolean) =>
  TextList(/^[a-z-]{1,40}$/, materialTraits.length, {
    values: materialTraits,
    optional,
    description: 'What may slow a batch or harm somebody; each has its text and source',
  });

class MaterialTermsDto extends EnteredFiguresDto {
  @OneOf(materialKinds, { optional: true, description: `${KIND}. \`organic\`, if left out of a new one` })
  kind?: MaterialKind;
  @Traits(true) traits?: MaterialTrait[];
  @Text(CAUTION, { optional: true, nullable: true, description: 'What no trait says' })
  caution?: string | null;
  @OneOf(wasteCategories, { optional: true, nullable: true, description: WASTE_CATEGORY })
  wasteCategory?: WasteCategory | null;
}

export class NewMaterialDto extends MaterialTermsDto {
  @MaterialCode() code!: string;
  @Text(NAME) name!: string;
  @OneOf(materialClasses) class!: MaterialClass;
}

export class MaterialChangeDto extends MaterialTermsDto {
  @Text(NAME, { optional: true }) name?: string;
  @OneOf(materialClasses, { optional: true }) class?: MaterialClass;
  @Flag({ optional: true, description: 'A retired material is taken no more; old records keep it' })
  retired?: boolean;
}

export class MaterialDto extends KnownFiguresDto {
  @MaterialCode() code!: string;
  @Text(NAME) name!: string;
  @OneOf(materialClasses) class!: MaterialClass;
  @OneOf(materialKinds, { description: KIND }) kind!: MaterialKind;
  @Traits(false) traits!: MaterialTrait[];
  @Text(CAUTION, { nullable: true }) caution!: string | null;
  @OneOf(wasteCategories, { nullable: true, description: WASTE_CATEGORY })
  wasteCategory!: WasteCategory | null;
  @Flag() retired!: boolean;
  @Whole(1, 1e9) version!: number;
}

export class MaterialPageDto {
  @ListOf(() => MaterialDto, 200) items!: MaterialDto[];
  @Text(400, { nullable: true }) next!: string | null;
}
