import { type TemperatureUnit, temperatureUnits } from '#libs/quantities';
import {
  Flag,
  Instant,
  ListOf,
  Nested,
  OneOf,
  Pattern,
  Text,
  TextList,
  Uuid,
  Whole,
  WholeList,
} from '../http/dto/fields.js';
import { Depth, LengthDto } from '../http/dto/quantities.js';
import { type DateForm, dateForms, type DecimalMark, decimalMarks } from './import-cells.js';
import { type Delimiter, delimiters } from './import-table.js';
import { FILE_MAX_CHARS } from './imports.dto.js';
import { type RepeatedHour, repeatedHours } from './logger-times.js';

/** A year of one reading a minute; a logger with more probes has wider lines, not more. */
export const LOGGER_LINES_MAX = 550_000;
const READINGS_MAX = 10_000_000;
const MOST_PROBES = 100;
const FAULTS_TOLD = 1_000;

export class LoggerImportColumnsDto {
  @Text(200, { description: 'Name of the column of the time, with the day where no other column has it' })
  time!: string;
  @Text(200, { optional: true, description: 'Of the day, where it stands apart' }) day?: string;
  @Text(200, { optional: true, description: 'Where a line is of one probe: which one it was' })
  probe?: string;
  @Text(200, { optional: true, description: 'And what it showed' }) temperature?: string;
}

/** Where a probe was, all through the file. */
export class LoggerImportProbeDto {
  @Text(200, { description: 'Name of its column; or as the column of probes names it', example: 'Probe 1' })
  name!: string;
  @Text(40, { oneLine: true, example: 'core-1' }) position!: string;
  @Text(40, { oneLine: true, optional: true, example: 'core' }) zone?: string;
  @Depth({ optional: true }) depth?: LengthDto;
  @Text(24, { optional: true, description: 'Instead of that of the file' }) bay?: string;
  @Uuid({ optional: true, description: 'Instead of that of the file' }) batchId?: string;
}

export class LoggerImportSettingsDto {
  @Uuid() deviceId!: string;
  @Text(24, { optional: true, description: 'Bay that the probes lay in; or name a batch' }) bay?: string;
  @Uuid({ optional: true }) batchId?: string;
  @Nested(() => LoggerImportColumnsDto) columns!: LoggerImportColumnsDto;
  @ListOf(() => LoggerImportProbeDto, MOST_PROBES, { min: 1 }) probes!: LoggerImportProbeDto[];
  @OneOf(temperatureUnits) unit!: TemperatureUnit;
  @Text(64, {
    optional: true,
    example: 'America/Denver',
    description:
      'Of the clock of the logger: an IANA name, or a fixed offset such as -07:00; that of the site, if left out',
  })
  timeZone?: string;
  @OneOf(repeatedHours, {
    optional: true,
    description:
      'Which is meant by a time that clocks showed twice: the earlier, the later, or first one and then the other, as the ' +
      'lines go. Such a line is refused if this is left out',
  })
  repeatedHour?: RepeatedHour;
  @OneOf(dateForms, { optional: true, description: 'year-month-day, if left out' }) dateForm?: DateForm;
  @OneOf(decimalMarks, { optional: true, description: 'A point, if left out' }) decimalMark?: DecimalMark;
  @OneOf(delimiters, { optional: true, description: 'A comma, if left out' }) delimiter?: Delimiter;
  @TextList(/^[^\p{Cc}\p{Cs}]{1,60}$/u, 20, {
    optional: true,
    description: 'What the logger writes where it has no reading; an empty cell always means that',
  })
  noReading?: string[];
}

export class NewLoggerImportDto extends LoggerImportSettingsDto {
  @Uuid({ optional: true, description: 'UUIDv7 made by the client, so that it can be sent again' })
  id?: string;
  @Text(200, { example: 'logger-2026-03.csv' }) fileName!: string;
  @Text(FILE_MAX_CHARS, { optional: true, description: 'The file as text' }) csv?: string;
  @Pattern(/^[A-Za-z0-9+/]+={0,2}$/, 'base64', {
    optional: true,
    description: 'Or its bytes, in base64: then it is told when they are not UTF-8',
  })
  csvBase64?: string;
  @Flag({ description: 'True: nothing is kept, and the report tells what would be' }) dryRun!: boolean;
  @WholeList(2, 10_000_000, LOGGER_LINES_MAX, {
    optional: true,
    description:
      'Lines to leave out. One cell that is refused stops the whole import unless its line is named here',
  })
  leaveOut?: number[];
}

export class LoggerImportFaultDto {
  @Whole(2, 1e8, { description: 'As an editor counts them; line 1 names the columns' }) line!: number;
  @Text(200, { nullable: true, description: 'Null where the whole line is meant' }) column!: string | null;
  @Text(400) detail!: string;
}

export class LoggerImportCountsDto {
  @Whole(0, LOGGER_LINES_MAX) lines!: number;
  @Whole(0, READINGS_MAX) readings!: number;
  @Whole(0, READINGS_MAX) new!: number;
  @Whole(0, READINGS_MAX, { description: 'Kept before with the same figures' }) known!: number;
  @Whole(0, READINGS_MAX, { description: 'Cells without a reading' }) blank!: number;
  @Whole(0, READINGS_MAX, { description: 'Cells and lines' }) refused!: number;
  @Whole(0, LOGGER_LINES_MAX) leftOut!: number;
  @Whole(0, READINGS_MAX, { description: 'Above 100 °C, or exactly −40 °C, as of a broken wire; kept' })
  warned!: number;
  @Whole(0, READINGS_MAX, { description: 'Of a bay in which no batch lay at the time; kept' })
  withoutBatch!: number;
}

export class LoggerImportReportDto {
  @Uuid({ nullable: true, description: 'Null for a dry run' }) id!: string | null;
  @Text(200) fileName!: string;
  @Text(64, { description: 'SHA-256 of the file, hex' }) fileSha256!: string;
  @Flag() dryRun!: boolean;
  @Nested(() => LoggerImportCountsDto) counts!: LoggerImportCountsDto;
  @Instant({ nullable: true, description: 'First reading' }) from!: string | null;
  @Instant({ nullable: true, description: 'Last reading' }) to!: string | null;
  @TextList(/^/, 20, { description: 'Of the file as a whole' }) notes!: string[];
  @ListOf(() => LoggerImportFaultDto, FAULTS_TOLD, { description: 'The first of them' })
  faults!: LoggerImportFaultDto[];
}

export class LoggerImportDto {
  @Uuid() id!: string;
  @Text(200) fileName!: string;
  @Text(64) fileSha256!: string;
  @Uuid() siteId!: string;
  @Nested(() => LoggerImportCountsDto) counts!: LoggerImportCountsDto;
  @Instant() recordedAt!: string;
  @Uuid() recordedBy!: string;
}

export class LoggerImportPageDto {
  @ListOf(() => LoggerImportDto, 200) items!: LoggerImportDto[];
  @Text(400, { nullable: true }) next!: string | null;
}
