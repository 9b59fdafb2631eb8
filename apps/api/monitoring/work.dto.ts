import { NewNotedEntryDto, NotedEntryDto } from '../http/dto/entries.dto.js';
import { Json, ListOf, Num, Text } from '../http/dto/fields.js';
import { Volume, VolumeDto } from '../http/dto/quantities.js';

export class NewTurnDto extends NewNotedEntryDto {}

export class TurnDto extends NotedEntryDto {}

export class TurnPageDto {
  @ListOf(() => TurnDto, 200) items!: TurnDto[];
  @Text(400, { nullable: true }) next!: string | null;
}

export class NewWateringDto extends NewNotedEntryDto {
  @Volume({ optional: true, description: 'Left out where nobody measured it' }) volume?: VolumeDto;
}

export interface WateringEntered {
  volume?: VolumeDto;
}

export class WateringDto extends NotedEntryDto {
  @Num(0, 200_000, { nullable: true }) volumeL!: number | null;
  @Json({ description: 'Quantities as they were typed' }) entered!: WateringEntered;
}

export class WateringPageDto {
  @ListOf(() => WateringDto, 200) items!: WateringDto[];
  @Text(400, { nullable: true }) next!: string | null;
}
