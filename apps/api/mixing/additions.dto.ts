import {
  type LeastBy,
  leastBy,
  type MaterialFigure,
  materialFigures,
  type MixFigure,
  mixFigures,
} from '#libs/materials';
import {
  Instant,
  ListOf,
  MATERIAL_CODE,
  Nested,
  Num,
  OneOf,
  Text,
  TextList,
  Uuid,
  Whole,
} from '../http/dto/fields.js';
import { MaterialCautionDto, MixTargetDto } from './mix.dto.js';

const MOST = 1e12;
const SENTENCE = 2000;
const unknown = { nullable: true, description: 'Null when unknown' };

export const grades = ['reasonable', 'preferred'] as const;
export type Grade = (typeof grades)[number];

export const additionsStates = [
  'in-range',
  'found',
  'impossible',
  'contradictory',
  'unknown',
  'closed',
] as const;
export type AdditionsState = (typeof additionsStates)[number];

export class AdditionsQuery {
  @OneOf(leastBy, { optional: true, description: 'What is to be least: the mass added (usual), or its cost' })
  leastBy?: LeastBy;
  @OneOf(grades, {
    optional: true,
    description: 'Which published ranges: the wide ones (usual), or the narrow',
  })
  grade?: Grade;
}

export class MeasuredDto {
  @Text(40) container!: string;
  @Uuid({ description: 'Of it, as an amendment takes it' }) containerId!: string;
  @Num(0, MOST, { description: 'In halves' }) count!: number;
  @Num(0, MOST, { description: 'Of one' }) volumeL!: number;
  @Num(0, MOST, { description: 'Of all of them' }) massKg!: number;
}

export class DoseDto {
  @OneOf(['container', 'volume', 'mass', 'all'], { description: '`all`: all of it that lies there' })
  by!: 'container' | 'volume' | 'mass' | 'all';
  @Num(0, MOST) massKg!: number;
  @Num(0, MOST, unknown) volumeL!: number | null;
}

export class AdditionDto {
  @Text(40) material!: string;
  @Text(120) name!: string;
  @Num(0, MOST, { description: 'The least that does' }) massKg!: number;
  @Num(0, MOST, unknown) volumeL!: number | null;
  @Nested(() => DoseDto, { description: 'What to measure out: rounded up to what a person can measure' })
  dose!: DoseDto;
  @Nested(() => MeasuredDto, {
    nullable: true,
    description: 'Null where the yard counted it in no container, or half containers are too coarse',
  })
  measured!: MeasuredDto | null;
  @Num(0, MOST, unknown) cost!: number | null;
}

export class MixThenDto implements Record<MixFigure, number | null> {
  @Num(0, MOST) massKg!: number;
  @Num(0, MOST, unknown) volumeL!: number | null;
  @Num(0, MOST, unknown) carbonToNitrogen!: number | null;
  @Num(0, 100, unknown) moisturePercent!: number | null;
  @Num(0, MOST, unknown) bulkDensityKgM3!: number | null;
  @Num(0, 100, unknown) freeAirSpacePercent!: number | null;
}

export class UnmetDto {
  @OneOf(mixFigures) figure!: MixFigure;
  @Num(-MOST, MOST, {
    nullable: true,
    description:
      'The nearest that it comes with the stock, or with all that may be had where none of it would help; null where the target itself cannot be',
  })
  nearest!: number | null;
  @Text(SENTENCE) text!: string;
}

export class PortionDto {
  @Text(40) material!: string;
  @Text(120) name!: string;
  @Num(0, MOST) massKg!: number;
  @Num(0, MOST, unknown) volumeL!: number | null;
}

export class HelpDto extends PortionDto {
  @ListOf(() => PortionDto, 1000, { description: 'What lies there already and goes in with it' })
  alongside!: PortionDto[];
  @Text(SENTENCE) text!: string;
}

export class LeftOutDto {
  @Text(40) material!: string;
  @OneOf(['figures-unknown', 'none-left', 'not-listed']) why!: 'figures-unknown' | 'none-left' | 'not-listed';
  @TextList(/\S/, materialFigures.length, {
    values: materialFigures,
    description: 'Figures that are unknown',
  })
  missing!: MaterialFigure[];
  @Text(SENTENCE) text!: string;
}

export class AdditionsDto {
  @OneOf(additionsStates) state!: AdditionsState;
  @Text(SENTENCE) summary!: string;
  @OneOf(leastBy) leastBy!: LeastBy;
  @OneOf(grades) grade!: Grade;
  @Instant({
    nullable: true,
    description: 'The figures are of when it left building; null where they are of now',
  })
  figuresAsOf!: string | null;
  @ListOf(() => MixTargetDto, 10, { description: 'What was asked for, and how the mix stands to it now' })
  targets!: MixTargetDto[];
  @TextList(/\S/, 1000, { description: 'What to measure out, in the words of the yard' }) steps!: string[];
  @ListOf(() => AdditionDto, 1000) additions!: AdditionDto[];
  @Nested(() => MixThenDto, { nullable: true, description: 'The mix with exactly that' })
  after!: MixThenDto | null;
  @Nested(() => MixThenDto, {
    nullable: true,
    description: 'The mix with the doses that `steps` tells',
  })
  afterMeasured!: MixThenDto | null;
  @ListOfFigures('Targets that half containers would miss, so that it is weighed out instead')
  missedMeasured!: MixFigure[];
  @Num(0, MOST, { nullable: true, description: 'Of the additions whose cost is known' }) cost!: number | null;
  @TextList(MATERIAL_CODE, 1000, {
    description: 'Additions that nobody said the cost of: they count as free',
  })
  costUnknown!: string[];
  @ListOf(() => UnmetDto, 10) unmet!: UnmetDto[];
  @ListOf(() => HelpDto, 100, {
    description: 'Any one of these would make it possible: what donors often bring first, of that the least',
  })
  wouldHelp!: HelpDto[];
  @Whole(0, 100_000, { description: 'How many others would as well' }) moreWouldHelp!: number;
  @ListOf(() => PortionDto, 1000, { description: 'Where no single one would: these together' })
  together!: PortionDto[];
  @ListOf(() => LeftOutDto, 1000, { description: 'Stock that was not reckoned with' }) leftOut!: LeftOutDto[];
  @ListOfFigures('Figures of which nothing is known in the batch: nothing was asked of them')
  notJudged!: MixFigure[];
  @ListOf(() => MaterialCautionDto, 1000, { description: 'What to mind in what is to be added' })
  cautions!: MaterialCautionDto[];
  @TextList(/\S/, 1000, { description: 'What else to know before adding it' }) notes!: string[];
}

function ListOfFigures(description: string): PropertyDecorator {
  return TextList(/\S/, mixFigures.length, { values: mixFigures, description });
}
