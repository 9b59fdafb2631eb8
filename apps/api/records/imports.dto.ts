import { type MassUnit, massUnits } from '#libs/quantities';
import {
  Flag,
  Instant,
  ListOf,
  MaterialCode,
  Nested,
  Num,
  OneOf,
  Pattern,
  Text,
  TextList,
  Uuid,
  Whole,
  WholeList,
} from '../http/dto/fields.js';
import { type DateForm, dateForms, type DecimalMark, decimalMarks } from './import-cells.js';
import { type Delimiter, delimiters, LINES_MAX } from './import-table.js';

export const importKinds = ['drop-offs'] as const;

/** The body of an import; the file itself is most of it. */
export const IMPORT_BODY_MAX_BYTES = 16 * 1_048_576;
export const FILE_MAX_CHARS = 15_000_000;

export class ImportColumnsDto {
  @Text(200, {
    description: 'Name of the column of the local day, perhaps with the local time',
    example: 'date',
  })
  date!: string;
  @Text(200, { description: 'The net mass', example: 'lbs_collected' }) mass!: string;
  @Text(200, { optional: true }) site?: string;
  @Text(200, { optional: true }) material?: string;
  @Text(200, { optional: true }) jurisdiction?: string;
  @Text(200, { optional: true }) depositor?: string;
  @Text(200, { optional: true }) note?: string;
}

export class ImportSiteDto {
  @Text(200, { optional: true, description: 'As the file names it; left out where no column names sites' })
  name?: string;
  @Uuid() siteId!: string;
  @Uuid({ optional: true, description: 'The scale its lots were weighed on' }) instrumentId?: string;
}

export class ImportMaterialDto {
  @Text(200, { description: 'As the file names it' }) name!: string;
  @MaterialCode() code!: string;
}

export class ImportJurisdictionDto {
  @Text(200, { description: 'As the file names it' }) name!: string;
  @Uuid() jurisdictionId!: string;
}

/** What holds for every line, unless its own cell says otherwise. */
export class ImportDefaultsDto {
  @MaterialCode({ optional: true }) material?: string;
  @Uuid({ optional: true, description: 'That of the site, if left out' }) jurisdictionId?: string;
  @Text(40, { optional: true, example: 'household' }) depositor?: string;
  @Pattern(/^([01]\d|2[0-3]):[0-5]\d$/, 'a local time, such as 12:00', {
    optional: true,
    description: 'Where a date has no time; noon, if left out',
  })
  localTime?: string;
}

export class ImportSettingsDto {
  @Nested(() => ImportColumnsDto) columns!: ImportColumnsDto;
  @OneOf(massUnits) massUnit!: MassUnit;
  @ListOf(() => ImportSiteDto, 200, { min: 1 }) sites!: ImportSiteDto[];
  @ListOf(() => ImportMaterialDto, 200, { optional: true }) materials?: ImportMaterialDto[];
  @ListOf(() => ImportJurisdictionDto, 200, { optional: true }) jurisdictions?: ImportJurisdictionDto[];
  @Nested(() => ImportDefaultsDto, { optional: true }) defaults?: ImportDefaultsDto;
  @OneOf(dateForms, { optional: true, description: 'year-month-day, if left out' }) dateForm?: DateForm;
  @OneOf(decimalMarks, { optional: true, description: 'A point, if left out' }) decimalMark?: DecimalMark;
  @OneOf(delimiters, { optional: true, description: 'A comma, if left out' }) delimiter?: Delimiter;
}

export class NewImportDto extends ImportSettingsDto {
  @Uuid({ optional: true, description: 'UUIDv7 made by the client, so that it can be sent again' })
  id?: string;
  @OneOf(importKinds) kind!: 'drop-offs';
  @Text(200, { example: 'hauls-2023.csv' }) fileName!: string;
  @Text(FILE_MAX_CHARS, { optional: true, description: 'The file as text' }) csv?: string;
  @Pattern(/^[A-Za-z0-9+/]+={0,2}$/, 'base64', {
    optional: true,
    description: 'Or its bytes, in base64: then it is told when they are not UTF-8',
  })
  csvBase64?: string;
  @Flag({ description: 'True: nothing is kept, and the report tells what would be' }) dryRun!: boolean;
  @WholeList(2, 10_000_000, LINES_MAX, {
    optional: true,
    description: 'Lines to leave out. A line that is refused stops the whole import unless it is named here',
  })
  leaveOut?: number[];
}

export const lineOutcomes = ['new', 'known', 'refused', 'left-out'] as const;
export type LineOutcome = (typeof lineOutcomes)[number];

export class ImportLineDto {
  @Whole(2, 1e8, { description: 'As an editor counts them; line 1 names the columns' }) line!: number;
  @OneOf(lineOutcomes, { description: '`known`: it was imported before' }) outcome!: LineOutcome;
  @Text(12, { nullable: true, description: 'Code of the site' }) site!: string | null;
  @Instant({ nullable: true }) occurredAt!: string | null;
  @Num(0, 50_000, { nullable: true }) netKg!: number | null;
  @TextList(/^/, 20, { description: 'Why it is refused' }) faults!: string[];
  @TextList(/^/, 20, { description: 'What to look at again; kept on the record of the lot' })
  warnings!: string[];
}

export class ImportCountsDto {
  @Whole(0, LINES_MAX) lines!: number;
  @Whole(0, LINES_MAX) new!: number;
  @Whole(0, LINES_MAX) known!: number;
  @Whole(0, LINES_MAX) refused!: number;
  @Whole(0, LINES_MAX) leftOut!: number;
  @Whole(0, LINES_MAX, { description: 'Lines with a warning' }) warned!: number;
  @Num(0, 1e12, { description: 'Net mass of the new lines' }) newKg!: number;
}

export class ImportReportDto {
  @Uuid({ nullable: true, description: 'Null for a dry run' }) id!: string | null;
  @OneOf(importKinds) kind!: 'drop-offs';
  @Text(200) fileName!: string;
  @Text(64, { description: 'SHA-256 of the file, hex' }) fileSha256!: string;
  @Flag() dryRun!: boolean;
  @Nested(() => ImportCountsDto) counts!: ImportCountsDto;
  @TextList(/^/, 20, { description: 'Of the file as a whole' }) notes!: string[];
  @ListOf(() => ImportLineDto, LINES_MAX) lines!: ImportLineDto[];
}

export class ImportDto {
  @Uuid() id!: string;
  @OneOf(importKinds) kind!: 'drop-offs';
  @Text(200) fileName!: string;
  @Text(64) fileSha256!: string;
  @Uuid({ nullable: true, description: 'Null where the file was of several sites' }) siteId!: string | null;
  @Nested(() => ImportCountsDto) counts!: ImportCountsDto;
  @Instant() recordedAt!: string;
  @Uuid() recordedBy!: string;
}

export class ImportPageDto {
  @ListOf(() => ImportDto, 200) items!: ImportDto[];
  @Text(400, { nullable: true }) next!: string | null;
}
