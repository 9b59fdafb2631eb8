import { entryBases, type EntryBasis } from '#libs/accounting';
import { NewNotedEntryDto, NotedEntryDto } from '../http/dto/entries.dto.js';
import { Json, ListOf, Num, OneOf, Text } from '../http/dto/fields.js';
import { Mass, MassDto, Volume, VolumeDto } from '../http/dto/quantities.js';

/** Who took it: a kind, never a name. */
export const recipients = [
  'household',
  'community-garden',
  'school',
  'farm',
  'public-works',
  'landscaper',
  'own-programme',
  'other',
] as const;
export type Recipient = (typeof recipients)[number];

export const compostUses = [
  'vegetable-beds',
  'ornamental-beds',
  'lawns',
  'trees',
  'field-crops',
  'potting-mix',
  'soil-repair',
  'other',
] as const;
export type CompostUse = (typeof compostUses)[number];

/** One of `mass` and `volume`. */
export class NewDistributionDto extends NewNotedEntryDto {
  @OneOf(recipients) recipient!: Recipient;
  @OneOf(compostUses) use!: CompostUse;
  @Mass({ optional: true }) mass?: MassDto;
  @Volume({ optional: true, description: 'Needs a screening whose compost was both weighed and measured' })
  volume?: VolumeDto;
}

export type DistributionEntered = Pick<NewDistributionDto, 'mass' | 'volume'>;

export class DistributionDto extends NotedEntryDto {
  @Text(60, { example: 'QS-26-004/3', description: 'Of the batch and this distribution, as on its label' })
  code!: string;
  @OneOf(recipients) recipient!: Recipient;
  @OneOf(compostUses) use!: CompostUse;
  @Num(0, 1e6) massKg!: number;
  @Num(0, 1e6, { nullable: true }) volumeL!: number | null;
  @OneOf(entryBases) basis!: EntryBasis;
  @Json({ description: 'Quantities as they were typed' }) entered!: DistributionEntered;
}

export class DistributionPageDto {
  @ListOf(() => DistributionDto, 200) items!: DistributionDto[];
  @Text(400, { nullable: true }) next!: string | null;
}
