import { type TemperatureUnit, temperatureUnits } from '#libs/quantities';
import { Instant, ListOf, Nested, Num, OneOf, Text, Uuid, Whole } from '../http/dto/fields.js';
import { PageQuery } from '../http/dto/paging.js';
import { Depth, LengthDto } from '../http/dto/quantities.js';

export const MOST_READINGS = 5_000;
/** 5,000 readings with long names; four times what is usual. */
export const READINGS_BODY_MAX_BYTES = 4 * 1_048_576;

/** Any number: what a broken sensor says is refused reading by reading, and the good ones beside it are kept. */
export class LoggerTemperatureDto {
  @Num(-1e6, 1e6, { example: 61.4 }) value!: number;
  @OneOf(temperatureUnits, { example: 'C' }) unit!: TemperatureUnit;
}

export class NewLoggerReadingDto {
  @Text(24, { optional: true, example: 'A1', description: 'Code of a bay of the key; or `batchId`' })
  bay?: string;
  @Uuid({ optional: true, description: 'A batch of the key; or `bay`' }) batchId?: string;
  @Text(40, {
    oneLine: true,
    example: 'core-1',
    description: 'Which probe; once for every instant of a bay or batch',
  })
  position!: string;
  @Text(40, {
    oneLine: true,
    optional: true,
    example: 'core',
    description: 'The place of the pile that it stands for',
  })
  zone?: string;
  @Depth({ optional: true }) depth?: LengthDto;
  @Nested(() => LoggerTemperatureDto) temperature!: LoggerTemperatureDto;
  @Instant({ description: 'One time for all probes that were read together' }) occurredAt!: string;
}

export class NewLoggerReadingsDto {
  @ListOf(() => NewLoggerReadingDto, MOST_READINGS, { min: 1 }) readings!: NewLoggerReadingDto[];
}

export class RefusedReadingDto {
  @Whole(0, MOST_READINGS - 1, { description: 'Which of the readings sent, from 0' }) index!: number;
  @Text(200, { description: 'JSON Pointer to what is wrong' }) pointer!: string;
  @Text(400) detail!: string;
}

export class LoggerReadingsDto {
  @Whole(0, MOST_READINGS, { description: 'Kept now' }) new!: number;
  @Whole(0, MOST_READINGS, { description: 'Kept before, with the same figures' }) known!: number;
  @Whole(0, MOST_READINGS, {
    description: 'Of those, above 100 °C, or exactly −40 °C: is the sensor broken?',
  })
  warned!: number;
  @Whole(0, MOST_READINGS, { description: 'Of those, of a bay in which no batch lay at the time' })
  withoutBatch!: number;
  @ListOf(() => RefusedReadingDto, MOST_READINGS) refused!: RefusedReadingDto[];
}

export class LoggerHoursQuery extends PageQuery {
  @Uuid({ description: 'The logger, by the id of its key' }) deviceId!: string;
  @Instant({ optional: true, description: 'The first hour that is told begins no earlier' }) from?: string;
  @Instant({ optional: true, description: 'Before this time' }) to?: string;
}

export class LoggerHourDto {
  @Instant({ description: 'Beginning of the hour' }) hour!: string;
  @Whole(1, 1e9) probe!: number;
  @Text(24, { nullable: true }) bay!: string | null;
  @Uuid({ nullable: true }) batchId!: string | null;
  @Text(40) position!: string;
  @Whole(1, 1e9) readings!: number;
  @Num(-40, 150) minC!: number;
  @Num(-40, 150) maxC!: number;
  @Num(-40, 150) meanC!: number;
  @Instant() firstAt!: string;
  @Instant() lastAt!: string;
}

export class LoggerHourPageDto {
  @ListOf(() => LoggerHourDto, 200) items!: LoggerHourDto[];
  @Text(400, { nullable: true }) next!: string | null;
}
