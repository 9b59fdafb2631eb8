import {
  type Figure,
  type MaterialCaution,
  type MaterialClass,
  materialClasses,
  type MaterialFigure,
  materialFigures,
  type MaterialKind,
  materialKinds,
  materialTraits,
  type MixFigure,
  mixFigures,
  mixStandings,
  type Verification,
  verifications,
} from '#libs/materials';
import {
  Flag,
  Instant,
  ListOf,
  LocalDate,
  Nested,
  MATERIAL_CODE,
  Num,
  OneOf,
  Text,
  TextList,
} from '../http/dto/fields.js';
import type { BatchMix, Bounds, FigureOf, MixMaterial, MixStanding } from './mix-view.js';

const MOST = 1e12;
const unknown = { nullable: true, description: 'Null when unknown' };

export class KnownMassDto implements Record<MixFigure, number> {
  @Num(0, 100) carbonToNitrogen!: number;
  @Num(0, 100) moisturePercent!: number;
  @Num(0, 100) bulkDensityKgM3!: number;
  @Num(0, 100) freeAirSpacePercent!: number;
}

export class BoundsDto implements Bounds {
  @Num(0, MOST) min!: number;
  @Num(0, MOST, { nullable: true, description: 'Null where nothing bounds it: C:N without nitrogen' })
  max!: number | null;
}

export class MixRangesDto implements Record<MixFigure, BoundsDto | null> {
  @Nested(() => BoundsDto, unknown) carbonToNitrogen!: BoundsDto | null;
  @Nested(() => BoundsDto, unknown) moisturePercent!: BoundsDto | null;
  @Nested(() => BoundsDto, unknown) bulkDensityKgM3!: BoundsDto | null;
  @Nested(() => BoundsDto, unknown) freeAirSpacePercent!: BoundsDto | null;
}

export class GreensToBrownsDto {
  @Num(0, MOST, { nullable: true }) byMass!: number | null;
  @Num(0, MOST, { nullable: true }) byVolume!: number | null;
}

export class MissingFigureDto implements FigureOf {
  @Text(40) material!: string;
  @OneOf(materialFigures) figure!: MaterialFigure;
}

export class ContradictedDto {
  @Text(40) material!: string;
  @Text(2000) detail!: string;
}

export class MaterialCautionDto implements MaterialCaution {
  @OneOf([...materialTraits, 'material']) code!: MaterialCaution['code'];
  @Text(2000) text!: string;
  @Text(2000) source!: string;
  @TextList(MATERIAL_CODE, 1000, { description: 'The materials that it is about' }) materials!: string[];
}

export class MixTargetDto implements MixStanding {
  @OneOf(mixFigures) figure!: MixFigure;
  @OneOf(['permit', 'reasonable', 'preferred']) grade!: MixStanding['grade'];
  @Num(0, MOST, { nullable: true }) min!: number | null;
  @Num(0, MOST, { nullable: true }) max!: number | null;
  @Num(0, MOST, unknown) value!: number | null;
  @OneOf(mixStandings) state!: MixStanding['state'];
  @Flag({ description: 'All that the ranges allow stands so, and nothing of it is unknown' }) sure!: boolean;
  @Text(400, { description: 'The permit, or the publication that gives the range' }) source!: string;
}

export class MixMaterialFigureDto implements Figure {
  @Num(0, MOST) typical!: number;
  @Num(0, MOST, { nullable: true }) min!: number | null;
  @Num(0, MOST, { nullable: true }) max!: number | null;
  @Text(2000) source!: string;
  @OneOf(verifications) verification!: Verification;
  @LocalDate({ nullable: true, description: 'Local day of the sample, where the yard had it measured' })
  measuredOn!: string | null;
}

export class MixMaterialDto implements MixMaterial {
  @Text(40) code!: string;
  @Text(120) name!: string;
  @OneOf(materialClasses) class!: MaterialClass;
  @OneOf(materialKinds) kind!: MaterialKind;
  @Num(0, MOST) massKg!: number;
  @Num(0, MOST, { description: 'Part of it that was estimated from a volume' }) estimatedKg!: number;
  @Nested(() => MixMaterialFigureDto, unknown) nitrogenPercentDry!: MixMaterialFigureDto | null;
  @Nested(() => MixMaterialFigureDto, unknown) carbonPercentDry!: MixMaterialFigureDto | null;
  @Nested(() => MixMaterialFigureDto, unknown) carbonToNitrogen!: MixMaterialFigureDto | null;
  @Nested(() => MixMaterialFigureDto, unknown) ashPercentDry!: MixMaterialFigureDto | null;
  @Nested(() => MixMaterialFigureDto, unknown) moisturePercent!: MixMaterialFigureDto | null;
  @Nested(() => MixMaterialFigureDto, unknown) bulkDensityKgM3!: MixMaterialFigureDto | null;
}

export class MixDto implements BatchMix {
  @Num(0, MOST) massKg!: number;
  @Num(0, MOST) weighedKg!: number;
  @Num(0, MOST, { description: 'Estimated from a volume' }) estimatedKg!: number;
  @Num(0, MOST, { description: 'Of materials of which a figure that the mix needs is unknown' })
  unknownKg!: number;
  @Num(0, MOST, { ...unknown, description: 'Sum of the volumes of the parts: a real pile settles' })
  volumeL!: number | null;
  @Num(0, MOST, unknown) carbonToNitrogen!: number | null;
  @Num(0, 100, unknown) moisturePercent!: number | null;
  @Num(0, MOST, unknown) bulkDensityKgM3!: number | null;
  @Num(0, 100, unknown) freeAirSpacePercent!: number | null;
  @Nested(() => MixRangesDto, { description: 'Between what each figure lies; see `method`' })
  ranges!: MixRangesDto;
  @Nested(() => KnownMassDto, { description: 'Per cent of the mass that each figure rests on' })
  knownMassPercent!: KnownMassDto;
  @Nested(() => GreensToBrownsDto, {
    description: 'Nitrogen-rich to carbon-rich; null without the one or the other',
  })
  greensToBrowns!: GreensToBrownsDto;
  @ListOf(() => MissingFigureDto, 6000) missing!: MissingFigureDto[];
  @ListOf(() => MissingFigureDto, 6000, { description: 'Taken as a point, since no range of them is known' })
  withoutRange!: MissingFigureDto[];
  @ListOf(() => ContradictedDto, 1000, {
    description: 'Materials whose figures cannot be together, and so are not used',
  })
  contradicted!: ContradictedDto[];
  @ListOf(() => MaterialCautionDto, 1000, { description: 'What to mind in these materials' })
  cautions!: MaterialCautionDto[];
  @ListOf(() => MixTargetDto, 100, { description: 'What the permit asks first, then published ranges' })
  targets!: MixTargetDto[];
  @Text(2000, { description: 'How the ranges are carried from those of the materials' }) method!: string;
  @Instant({
    nullable: true,
    description: 'The figures are of when it left building; null where they are of now',
  })
  figuresAsOf!: string | null;
  @ListOf(() => MixMaterialDto, 1000) materials!: MixMaterialDto[];
}
