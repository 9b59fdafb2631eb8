import { type MaterialClass, materialClasses, type Verification, verifications } from '#libs/materials';
import { Flag, ListOf, MaterialCode, Num, OneOf, Text, Whole } from '../http/dto/fields.js';

const SOURCE = 2_000;
const CAUTION = 1_000;
const may = { optional: true, nullable: true };
const known = { nullable: true };

/** An unknown figure is null, never a guess. Nitrogen and C:N are of the dry matter, moisture of the wet mass. */
class MaterialFiguresDto {
  @Num(0, 100, may) nitrogenPercentDry?: number | null;
  @Num(0.01, 10_000, may) carbonToNitrogen?: number | null;
  @Num(0, 100, may) moisturePercent?: number | null;
  @Num(0.1, 10_000, may) bulkDensityKgM3?: number | null;
  @Text(CAUTION, may) caution?: string | null;
}

export class NewMaterialDto extends MaterialFiguresDto {
  @MaterialCode() code!: string;
  @Text(120) name!: string;
  @OneOf(materialClasses) class!: MaterialClass;
  @Text(SOURCE, { description: 'Where the figures come from: a publication, a laboratory, a weighing' })
  source!: string;
}

export class MaterialChangeDto extends MaterialFiguresDto {
  @Text(120, { optional: true }) name?: string;
  @OneOf(materialClasses, { optional: true }) class?: MaterialClass;
  @Text(SOURCE, { optional: true, description: 'Goes with every change of a figure' }) source?: string;
  @Flag({ optional: true, description: 'A retired material is taken no more; old records keep it' })
  retired?: boolean;
}

export class MaterialDto {
  @MaterialCode() code!: string;
  @Text(120) name!: string;
  @OneOf(materialClasses) class!: MaterialClass;
  @Num(0, 100, known) nitrogenPercentDry!: number | null;
  @Num(0.01, 10_000, known) carbonToNitrogen!: number | null;
  @Num(0, 100, known) moisturePercent!: number | null;
  @Num(0.1, 10_000, known) bulkDensityKgM3!: number | null;
  @Text(SOURCE) source!: string;
  @OneOf(verifications, { description: '`local`: stated by the programme itself' })
  verification!: Verification;
  @Text(CAUTION, known) caution!: string | null;
  @Flag() retired!: boolean;
  @Whole(1, 1e9) version!: number;
}

export class MaterialPageDto {
  @ListOf(() => MaterialDto, 200) items!: MaterialDto[];
  @Text(400, { nullable: true }) next!: string | null;
}
