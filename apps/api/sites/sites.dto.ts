import type { Volume as EnteredVolume } from '#libs/quantities';
import { Flag, Json, ListOf, LocalDate, Num, Pattern, Text, Uuid, Whole } from '../http/dto/fields.js';
import { Volume, VolumeDto } from '../http/dto/quantities.js';
import { Label } from './site-fields.js';

const ZONE = /^[A-Za-z][A-Za-z0-9_+-]*(\/[A-Za-z0-9_+-]+)*$/;
const zone = (optional: boolean) =>
  Pattern(ZONE, 'the name of a time zone, such as "America/Denver"', { optional, example: 'America/Denver' });

const PUBLIC_RECORDS =
  'Whether anybody with the seal of a released batch may read what its record says in short';

export class NewBayDto {
  @Label({ example: 'A1' }) code!: string;
  @Volume({ optional: true }) capacity?: VolumeDto;
}

export class NewSiteDto {
  @Uuid({ optional: true }) id?: string;
  @Pattern(/^[A-Z0-9][A-Z0-9-]{0,11}$/, 'up to 12 capital letters, digits and hyphens', { example: 'QS' })
  code!: string;
  @Text(120) name!: string;
  @Flag({ description: 'A hub' }) takesDropOffs!: boolean;
  @Flag({ description: 'A yard' }) runsBatches!: boolean;
  @zone(false) timeZone!: string;
  @Uuid() jurisdictionId!: string;
  @LocalDate({ optional: true, description: 'First local day of operation' }) openedOn?: string;
  @Flag({ optional: true, description: PUBLIC_RECORDS }) publicRecords?: boolean;
  @ListOf(() => NewBayDto, 200, { optional: true, description: 'In the order in which the crew walks them' })
  bays?: NewBayDto[];
}

export class SiteChangeDto {
  @Text(120, { optional: true }) name?: string;
  @Flag({ optional: true }) takesDropOffs?: boolean;
  @Flag({ optional: true }) runsBatches?: boolean;
  @zone(true) timeZone?: string;
  @Uuid({ optional: true }) jurisdictionId?: string;
  @LocalDate({ optional: true, nullable: true }) openedOn?: string | null;
  @Flag({ optional: true, description: PUBLIC_RECORDS }) publicRecords?: boolean;
}

export interface BayEntered {
  capacity?: EnteredVolume;
}

export class BayDto {
  @Uuid() id!: string;
  @Label({ example: 'A1' }) code!: string;
  @Num(0, 200_000, { nullable: true }) capacityL!: number | null;
  @Json() entered!: BayEntered;
}

export class SiteDto {
  @Uuid() id!: string;
  @Text(12) code!: string;
  @Text(120) name!: string;
  @Flag() takesDropOffs!: boolean;
  @Flag() runsBatches!: boolean;
  @zone(false) timeZone!: string;
  @Uuid() jurisdictionId!: string;
  @LocalDate({ nullable: true }) openedOn!: string | null;
  @Flag({ description: PUBLIC_RECORDS }) publicRecords!: boolean;
  @ListOf(() => BayDto, 200, { description: 'In ground order' }) bays!: BayDto[];
  @Whole(1, 1e9) version!: number;
}

export class SitePageDto {
  @ListOf(() => SiteDto, 200) items!: SiteDto[];
  @Text(400, { nullable: true }) next!: string | null;
}
