import { NewNotedEntryDto, NotedEntryDto } from '../http/dto/entries.dto.js';
import { Json, ListOf, Num, OneOf, Text } from '../http/dto/fields.js';
import { Mass, MassDto, Volume, VolumeDto } from '../http/dto/quantities.js';

export const residueDestinations = ['landfill', 'recycling', 'other-composting'] as const;
export type ResidueDestination = (typeof residueDestinations)[number];

/** At least one of the three masses. */
export class NewScreeningDto extends NewNotedEntryDto {
  @Mass({ optional: true, description: 'Finished compost' }) compost?: MassDto;
  @Volume({ optional: true, description: 'The same compost, by volume' }) compostVolume?: VolumeDto;
  @Mass({ optional: true, description: 'Oversize, for a later batch' }) overs?: MassDto;
  @Mass({ optional: true, description: 'What does not belong in compost' }) residue?: MassDto;
  @OneOf(residueDestinations, { optional: true, description: 'Needed with residue' })
  residueWentTo?: ResidueDestination;
}

export type ScreeningEntered = Pick<NewScreeningDto, 'compost' | 'compostVolume' | 'overs' | 'residue'>;

export class ScreeningDto extends NotedEntryDto {
  @Num(0, 1e6) compostKg!: number;
  @Num(0, 1e6, { nullable: true }) compostVolumeL!: number | null;
  @Num(0, 1e6) oversKg!: number;
  @Num(0, 1e6) residueKg!: number;
  @OneOf(residueDestinations, { nullable: true }) residueWentTo!: ResidueDestination | null;
  @Json({ description: 'Quantities as they were typed' }) entered!: ScreeningEntered;
}

export class ScreeningPageDto {
  @ListOf(() => ScreeningDto, 200) items!: ScreeningDto[];
  @Text(400, { nullable: true }) next!: string | null;
}
