import type { Mass as EnteredMass } from '#libs/quantities';
import { Flag, Instant, Json, ListOf, MaterialCode, Num, OneOf, Text, Uuid } from '../http/dto/fields.js';
import { PageQuery } from '../http/dto/paging.js';
import { Mass, MassDto } from '../http/dto/quantities.js';
import { OccurredAt } from './lot-fields.js';
import { type Contaminant, contaminants } from './words.js';

export class NewRefusalDto {
  @Uuid({ optional: true, description: 'UUIDv7 made by the client, so that it can be sent again' })
  id?: string;
  @Uuid() siteId!: string;
  @Uuid({ optional: true }) shiftId?: string;
  @OccurredAt(true) occurredAt?: string;
  @MaterialCode({ description: 'What it was brought as' }) material!: string;
  @OneOf(contaminants) contaminant!: Contaminant;
  @Mass({ optional: true, description: 'If it was weighed at all' }) mass?: MassDto;
  @Text(400) reason!: string;
}

export class RefusalsQuery extends PageQuery {
  @Uuid({ optional: true }) siteId?: string;
  @Uuid({ optional: true }) shiftId?: string;
  @Instant({ optional: true, description: 'Occurred at or after' }) from?: string;
  @Instant({ optional: true, description: 'Occurred before' }) to?: string;
}

export class RefusalDto {
  @Uuid() id!: string;
  @Uuid() siteId!: string;
  @Uuid({ nullable: true }) shiftId!: string | null;
  @Instant() occurredAt!: string;
  @MaterialCode() material!: string;
  @OneOf(contaminants) contaminant!: Contaminant;
  @Num(0, 50_000, { nullable: true, description: 'Never part of what was accepted' }) massKg!: number | null;
  @Text(400) reason!: string;
  @Json() entered!: { mass?: EnteredMass };
  @Flag() voided!: boolean;
  @Text(400, { nullable: true }) voidReason!: string | null;
  @Instant() recordedAt!: string;
  @Uuid() recordedBy!: string;
}

export class RefusalPageDto {
  @ListOf(() => RefusalDto, 200) items!: RefusalDto[];
  @Text(400, { nullable: true }) next!: string | null;
}
