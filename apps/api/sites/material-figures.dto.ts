import { type Verification, verifications } from '#libs/materials';
import { type FieldOptions, Nested, Num, OneOf, Text } from '../http/dto/fields.js';

export const SOURCE = 2_000;
export const RATIO_MOST = 10_000;
export const DENSITY_MOST = 10_000;

const end = {
  optional: true,
  nullable: true,
  description: 'The range as the source gives it; left out at an end that it does not give',
};
const told = { description: 'A publication, a laboratory, a weighing: where this very figure comes from' };

/** Each with its own source: figures of one material seldom come from one place. */
class PercentDto {
  @Num(0, 100) typical!: number;
  @Num(0, 100, end) min?: number | null;
  @Num(0, 100, end) max?: number | null;
  @Text(SOURCE, told) source!: string;
}

class RatioDto {
  @Num(0.01, RATIO_MOST) typical!: number;
  @Num(0.01, RATIO_MOST, end) min?: number | null;
  @Num(0.01, RATIO_MOST, end) max?: number | null;
  @Text(SOURCE, told) source!: string;
}

class DensityDto {
  @Num(0.1, DENSITY_MOST) typical!: number;
  @Num(0.1, DENSITY_MOST, end) min?: number | null;
  @Num(0.1, DENSITY_MOST, end) max?: number | null;
  @Text(SOURCE, told) source!: string;
}

const may = (description: string): FieldOptions => ({ optional: true, nullable: true, description });

/** An unknown figure is null, never a guess. */
export class EnteredFiguresDto {
  @Nested(() => PercentDto, may('Of the dry matter')) nitrogenPercentDry?: PercentDto | null;
  @Nested(() => PercentDto, may('Of the dry matter')) carbonPercentDry?: PercentDto | null;
  @Nested(() => RatioDto, may('Of the dry matter, by mass')) carbonToNitrogen?: RatioDto | null;
  @Nested(() => PercentDto, may('Of the dry matter')) ashPercentDry?: PercentDto | null;
  @Nested(() => PercentDto, may('Of the wet mass')) moisturePercent?: PercentDto | null;
  @Nested(() => DensityDto, may('As it lies')) bulkDensityKgM3?: DensityDto | null;
}

class FigureDto {
  @Num(0, RATIO_MOST) typical!: number;
  @Num(0, RATIO_MOST, { nullable: true }) min!: number | null;
  @Num(0, RATIO_MOST, { nullable: true }) max!: number | null;
  @Text(SOURCE) source!: string;
  @OneOf(verifications, { description: '`local`: stated by the programme itself' })
  verification!: Verification;
}

const known = { nullable: true };

export class KnownFiguresDto {
  @Nested(() => FigureDto, known) nitrogenPercentDry!: FigureDto | null;
  @Nested(() => FigureDto, known) carbonPercentDry!: FigureDto | null;
  @Nested(() => FigureDto, known) carbonToNitrogen!: FigureDto | null;
  @Nested(() => FigureDto, known) ashPercentDry!: FigureDto | null;
  @Nested(() => FigureDto, known) moisturePercent!: FigureDto | null;
  @Nested(() => FigureDto, known) bulkDensityKgM3!: FigureDto | null;
}
