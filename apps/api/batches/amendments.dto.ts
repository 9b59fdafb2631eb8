import { entryBases, type EntryBasis } from '#libs/accounting';
import { intakeNoteCodes } from '#libs/materials';
import { NewNotedEntryDto, NotedEntryDto } from '../http/dto/entries.dto.js';
import { Json, ListOf, MaterialCode, Nested, Num, OneOf, Text, Uuid } from '../http/dto/fields.js';
import { Mass, MassDto, Volume, VolumeDto } from '../http/dto/quantities.js';

export const amendmentSources = ['stock', 'overs', 'water'] as const;
export type AmendmentSource = (typeof amendmentSources)[number];

export const amendmentWarnings = [
  'material-not-on-permit',
  'more-than-in-stock',
  ...intakeNoteCodes,
] as const;
export type AmendmentWarning = (typeof amendmentWarnings)[number];

export class ContainersDto {
  @Uuid({ description: 'A container of the yard whose volume is known, such as a barrow' })
  containerId!: string;
  @Num(0, 10_000, { example: 6.5, description: 'How many of it, heaped as when they were measured' })
  count!: number;
}

/** One of `mass`, `volume` and `containers`. */
export class NewAmendmentDto extends NewNotedEntryDto {
  @OneOf(amendmentSources) from!: AmendmentSource;
  @MaterialCode({ optional: true, description: 'Needed from stock; overs and water name themselves' })
  material?: string;
  @Mass({ optional: true }) mass?: MassDto;
  @Volume({
    optional: true,
    description:
      'An estimate: the bulk density makes the mass of it, as the yard measured it, else as the list has it',
  })
  volume?: VolumeDto;
  @Nested(() => ContainersDto, { optional: true, description: 'A volume, told in containers' })
  containers?: ContainersDto;
  @Uuid({ optional: true, description: 'With overs: the batch they were screened from' }) batchId?: string;
}

export class AmendmentWarningDto {
  @OneOf(amendmentWarnings) code!: AmendmentWarning;
  @Text(400) text!: string;
  @Text(100, { optional: true, description: 'JSON Pointer into the entry' }) pointer?: string;
}

export class AmendmentDto extends NotedEntryDto {
  @OneOf(amendmentSources) from!: AmendmentSource;
  @MaterialCode() material!: string;
  @Uuid({ nullable: true }) fromBatchId!: string | null;
  @Text(40, { nullable: true, description: 'Code of the batch that gave the overs' }) fromBatch!:
    string | null;
  @OneOf(entryBases) basis!: EntryBasis;
  @Num(0, 1e9) massKg!: number;
  @Num(0, 1e9, { nullable: true }) volumeL!: number | null;
  @Num(0, 1e6, { nullable: true }) densityKgM3!: number | null;
  @Text(2000, { nullable: true }) densitySource!: string | null;
  @ListOf(() => AmendmentWarningDto, 20, { description: 'Kept with the amendment; none of them a refusal' })
  warnings!: AmendmentWarningDto[];
  @Json({ description: 'The quantity as it was typed' }) entered!: object;
}

export class AmendmentPageDto {
  @ListOf(() => AmendmentDto, 200) items!: AmendmentDto[];
  @Text(400, { nullable: true }) next!: string | null;
}
