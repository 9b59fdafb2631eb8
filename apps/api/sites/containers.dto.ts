import type { Mass as EnteredMass, Volume as EnteredVolume } from '#libs/quantities';
import { Flag, Json, ListOf, Num, Text, Uuid, Whole } from '../http/dto/fields.js';
import { Mass, MassDto, Volume, VolumeDto } from '../http/dto/quantities.js';
import { Label } from './site-fields.js';

export class NewContainerDto {
  @Uuid({ optional: true }) id?: string;
  @Uuid() siteId!: string;
  @Label() code!: string;
  @Mass({ description: 'What it weighs empty' }) tare!: MassDto;
  @Volume({ optional: true }) volume?: VolumeDto;
}

export class ContainerChangeDto {
  @Label({ optional: true }) code?: string;
  @Mass({ optional: true, description: 'From now on; lots keep the tare that they were weighed with' })
  tare?: MassDto;
  @Volume({ optional: true, nullable: true }) volume?: VolumeDto | null;
  @Flag({ optional: true }) retired?: boolean;
}

export interface ContainerEntered {
  tare?: EnteredMass;
  volume?: EnteredVolume;
}

export class ContainerDto {
  @Uuid() id!: string;
  @Uuid() siteId!: string;
  @Label() code!: string;
  @Num(0, 50_000) tareKg!: number;
  @Num(0, 200_000, { nullable: true }) volumeL!: number | null;
  @Flag() retired!: boolean;
  @Json({ description: 'Quantities as they were typed' }) entered!: ContainerEntered;
  @Whole(1, 1e9) version!: number;
}

export class ContainerPageDto {
  @ListOf(() => ContainerDto, 200) items!: ContainerDto[];
  @Text(400, { nullable: true }) next!: string | null;
}
