import {
  type MoistureWord,
  moistureWords,
  type Odour,
  odours,
  type Sign,
  signs,
  type Texture,
  textures,
} from '#libs/process';
import { NewNotedEntryDto, NotedEntryDto } from '../http/dto/entries.dto.js';
import {
  type FieldOptions,
  Flag,
  Json,
  ListOf,
  Num,
  OneOf,
  Text,
  TextList,
  Uuid,
} from '../http/dto/fields.js';
import { Depth, LengthDto, Temperature, TemperatureDto } from '../http/dto/quantities.js';
import { type Moisture, MoistureField } from './moisture.dto.js';

const MOST_READINGS = 100;

const Signs = (options: FieldOptions) =>
  TextList(/^[a-z]+$/, signs.length, {
    values: signs,
    description: 'What was about the pile; empty where somebody looked and saw nothing',
    ...options,
  });
const INPUTS = 'Whether what went in can still be recognised';

export class NewReadingDto {
  @Text(40, { example: 'core-1', description: 'Where in the pile; each position and depth once a check' })
  position!: string;
  @Text(40, { optional: true, example: 'core', description: 'The place of the pile that it stands for' })
  zone?: string;
  @Depth({ optional: true }) depth?: LengthDto;
  @Temperature() temperature!: TemperatureDto;
  @Uuid({ optional: true, description: 'A thermometer of the yard' }) instrumentId?: string;
}

export class NewCheckDto extends NewNotedEntryDto {
  @ListOf(() => NewReadingDto, MOST_READINGS, { min: 1 }) readings!: NewReadingDto[];
  @MoistureField() moisture?: Moisture;
  @OneOf(odours, { optional: true }) odour?: Odour;
  @Temperature({ optional: true, description: 'Of the air' }) ambient?: TemperatureDto;
  @Num(0, 100, { optional: true, description: 'Oxygen in the pile, percent' }) oxygen?: number;
  @Signs({ optional: true }) signs?: Sign[];
  @OneOf(textures, { optional: true, description: 'In the hand' }) texture?: Texture;
  @Flag({ optional: true, description: INPUTS }) inputsVisible?: boolean;
}

export class ReadingDto {
  @Text(40) position!: string;
  @Text(40, { nullable: true }) zone!: string | null;
  @Num(0, 1000, { nullable: true }) depthCm!: number | null;
  @Num(-60, 150) temperatureC!: number;
  @Uuid({ nullable: true }) instrumentId!: string | null;
}

export const checkWarnings = [
  'too-hot',
  'too-cold',
  'too-few-probes',
  'depth-missing',
  'too-shallow',
] as const;
export type CheckWarning = (typeof checkWarnings)[number];

export class CheckWarningDto {
  @OneOf(checkWarnings) code!: CheckWarning;
  @Text(400) text!: string;
  @Text(200, { description: 'JSON Pointer to what it is about' }) pointer!: string;
}

/** The quantities as they were typed, reading by reading. */
export interface CheckEntered {
  readings: Pick<NewReadingDto, 'depth' | 'temperature'>[];
  ambient?: TemperatureDto;
  moisture?: Moisture;
  oxygen?: number;
}

export class CheckDto extends NotedEntryDto {
  @ListOf(() => ReadingDto, MOST_READINGS) readings!: ReadingDto[];
  @OneOf(moistureWords, { nullable: true }) moisture!: MoistureWord | null;
  @Num(0, 100, { nullable: true }) moisturePercent!: number | null;
  @OneOf(odours, { nullable: true }) odour!: Odour | null;
  @Num(0, 100, { nullable: true }) oxygenPercent!: number | null;
  @Num(-60, 60, { nullable: true }) ambientC!: number | null;
  @Signs({ nullable: true }) signs!: Sign[] | null;
  @OneOf(textures, { nullable: true, description: 'In the hand' }) texture!: Texture | null;
  @Flag({ nullable: true, description: INPUTS }) inputsVisible!: boolean | null;
  @ListOf(() => CheckWarningDto, 400, { description: 'Kept with the check; none of them a refusal' })
  warnings!: CheckWarningDto[];
  @Json({ description: 'Quantities as they were typed' }) entered!: CheckEntered;
}

export class CheckPageDto {
  @ListOf(() => CheckDto, 200) items!: CheckDto[];
  @Text(400, { nullable: true }) next!: string | null;
}
