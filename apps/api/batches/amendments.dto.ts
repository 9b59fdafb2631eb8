import { type MassBasis, massBases } from '#libs/accounting';
import { NewNotedEntryDto, NotedEntryDto } from '../http/dto/entries.dto.js';
import { Json, ListOf, MaterialCode, Num, OneOf, Text, Uuid } from '../http/dto/fields.js';
import { Mass, MassDto, Volume, VolumeDto } from '../http/dto/quantities.js';

export const amendmentSources = ['stock', 'overs', 'water'] as const;
export type AmendmentSource = (typeof amendmentSources)[number];

/** One of `mass` and `volume`. */
export class NewAmendmentDto extends NewNotedEntryDto {
  @OneOf(amendmentSources) from!: AmendmentSource;
  @MaterialCode({ optional: true, description: 'Needed from stock; overs and water name themselves' })
  material?: string;
  @Mass({ optional: true }) mass?: MassDto;
  @Volume({ optional: true, description: 'An estimate: the material’s bulk density makes the mass of it' })
  volume?: VolumeDto;
  @Uuid({ optional: true, description: 'With overs: the batch they were screened from' }) batchId?: string;
}

export class AmendmentDto extends NotedEntryDto {
  @OneOf(amendmentSources) from!: AmendmentSource;
  @MaterialCode() material!: string;
  @Uuid({ nullable: true }) fromBatchId!: string | null;
  @Text(40, { nullable: true, description: 'Code of the batch that gave the overs' }) fromBatch!:
    string | null;
  @OneOf(massBases) basis!: MassBasis;
  @Num(0, 1e9) massKg!: number;
  @Num(0, 1e9, { nullable: true }) volumeL!: number | null;
  @Num(0, 1e6, { nullable: true }) densityKgM3!: number | null;
  @Text(2000, { nullable: true }) densitySource!: string | null;
  @Json({ description: 'The quantity as it was typed' }) entered!: object;
}

export class AmendmentPageDto {
  @ListOf(() => AmendmentDto, 200) items!: AmendmentDto[];
  @Text(400, { nullable: true }) next!: string | null;
}
