import {
  verifications,
  type MaterialFigure,
  materialFigures,
  type MixFigure,
  mixFigures,
  type Verification,
} from '#libs/materials';
import { ListOf, Nested, Num, OneOf, Text } from '../http/dto/fields.js';
import type { BatchMix, MixMaterial, MixStanding } from './mix.service.js';

const unknown = { nullable: true, description: 'Null when unknown' };
const MOST = 1e12;

export class KnownMassDto implements Record<MixFigure, number> {
  @Num(0, 100) carbonToNitrogen!: number;
  @Num(0, 100) moisturePercent!: number;
  @Num(0, 100) bulkDensityKgM3!: number;
  @Num(0, 100) freeAirSpacePercent!: number;
}

export class MissingFigureDto {
  @Text(40) material!: string;
  @OneOf(materialFigures) figure!: MaterialFigure;
}

export class MixTargetDto implements MixStanding {
  @OneOf(mixFigures) figure!: MixFigure;
  @OneOf(['permit', 'reasonable', 'preferred']) grade!: MixStanding['grade'];
  @Num(0, MOST, { nullable: true }) min!: number | null;
  @Num(0, MOST, { nullable: true }) max!: number | null;
  @Num(0, MOST, unknown) value!: number | null;
  @OneOf(['within', 'below', 'above', 'unknown']) state!: MixStanding['state'];
  @Text(400, { description: 'The publication that gives the range' }) source!: string;
}

export class MixMaterialDto implements MixMaterial {
  @Text(40) code!: string;
  @Text(120) name!: string;
  @Num(0, MOST) massKg!: number;
  @Num(0, 100, unknown) nitrogenPercentDry!: number | null;
  @Num(0, MOST, unknown) carbonToNitrogen!: number | null;
  @Num(0, 100, unknown) moisturePercent!: number | null;
  @Num(0, MOST, unknown) bulkDensityKgM3!: number | null;
  @Text(2000) source!: string;
  @OneOf(verifications) verification!: Verification;
}

export class MixDto implements BatchMix {
  @Num(0, MOST) massKg!: number;
  @Num(0, MOST, unknown) volumeL!: number | null;
  @Num(0, MOST, unknown) carbonToNitrogen!: number | null;
  @Num(0, 100, unknown) moisturePercent!: number | null;
  @Num(0, MOST, unknown) bulkDensityKgM3!: number | null;
  @Num(0, 100, unknown) freeAirSpacePercent!: number | null;
  @Nested(() => KnownMassDto, { description: 'Per cent of the mass that each figure rests on' })
  knownMassPercent!: KnownMassDto;
  @ListOf(() => MissingFigureDto, 1000) missing!: MissingFigureDto[];
  @ListOf(() => MixTargetDto, 100) targets!: MixTargetDto[];
  @ListOf(() => MixMaterialDto, 1000) materials!: MixMaterialDto[];
}
