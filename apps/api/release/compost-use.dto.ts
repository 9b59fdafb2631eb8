import {
  type AreaUnit,
  areaUnits,
  type LengthUnit,
  lengthUnits,
  type VolumeUnit,
  volumeUnits,
} from '#libs/quantities';
import { Json, ListOf, Num, NumInQuery, OneOf, Text, Whole } from '../http/dto/fields.js';

const LARGEST = 1e9;
const optional = true;

/** Two of area, depth and volume, each with its unit; the third is worked out. */
export class CompostUseQuery {
  @NumInQuery(0, LARGEST, { optional, example: 1000, description: 'Two of area, depth and volume' })
  areaValue?: number;
  @OneOf(areaUnits, { optional, example: 'ft2' }) areaUnit?: AreaUnit;
  @NumInQuery(0, LARGEST, { optional, example: 0.5 }) depthValue?: number;
  @OneOf(lengthUnits, { optional, example: 'in' }) depthUnit?: LengthUnit;
  @NumInQuery(0, LARGEST, { optional }) volumeValue?: number;
  @OneOf(volumeUnits, { optional }) volumeUnit?: VolumeUnit;
  @NumInQuery(1, 5_000, {
    optional,
    example: 650,
    description: 'Bulk density of the compost: gives the mass',
  })
  densityKgM3?: number;
  @NumInQuery(0.1, 100_000, {
    optional,
    example: 90,
    description: 'What a barrow or bucket holds: gives how many',
  })
  containerLitres?: number;
}

export const workedOut = ['area', 'depth', 'volume'] as const;
export type WorkedOut = (typeof workedOut)[number];

export class UseCautionDto {
  @Text(60, { example: 'stems-and-trunks' }) code!: string;
  @Text(2_000) text!: string;
  @Text(500, { description: 'A document, or "common practice"' }) source!: string;
}

export class CompostUseDto {
  @OneOf(workedOut, { description: 'Which of the three was not given' }) workedOut!: WorkedOut;
  @Num(0, 1e9) areaM2!: number;
  @Num(0, 1e10) areaFt2!: number;
  @Num(0, 1e5) depthMm!: number;
  @Num(0, 1e4) depthIn!: number;
  @Num(0, 1e6) volumeM3!: number;
  @Num(0, 1e9) volumeL!: number;
  @Num(0, 1e7) volumeYd3!: number;
  @Num(0, 1e8) volumeFt3!: number;
  @Num(0, 1e10, { nullable: true, description: 'Estimated; null without a density' }) massKg!: number | null;
  @Num(0, 1e11, { nullable: true, description: 'Likewise' }) massLb!: number | null;
  @Whole(0, 1e10, {
    nullable: true,
    description: 'Whole ones, the last perhaps not full; null without a size',
  })
  containers!: number | null;
  @ListOf(() => UseCautionDto, 20) cautions!: UseCautionDto[];
  @Json({ description: 'As it was asked' }) entered!: Partial<CompostUseQuery>;
}
