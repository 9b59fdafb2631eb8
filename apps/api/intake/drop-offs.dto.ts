import { type MassBasis, massBases } from '#libs/accounting';
import type { Mass } from '#libs/quantities';
import {
  Flag,
  Instant,
  Json,
  ListOf,
  MaterialCode,
  Nested,
  Num,
  OneOf,
  Text,
  Uuid,
  Whole,
} from '../http/dto/fields.js';
import { PageQuery } from '../http/dto/paging.js';
import type { Amount } from './lot.js';
import { LotDto, OccurredAt, RejectDto, Rejects, WarningDto } from './lot-fields.js';
import {
  type Contaminant,
  contaminants,
  type Depositor,
  depositors,
  type Destination,
  destinations,
  type Place,
  places,
} from './words.js';

export class NewDropOffDto extends LotDto {
  @Uuid({ optional: true, description: 'UUIDv7 made by the client, so that it can be sent again' })
  id?: string;
  @Uuid() siteId!: string;
  @Uuid({ optional: true }) shiftId?: string;
  @OccurredAt(true) occurredAt?: string;
  @Uuid({ optional: true, description: 'Where it comes from; the site’s own, if left out' })
  jurisdictionId?: string;
  @Rejects(true) rejects?: RejectDto[];
}

/** A correction restates the whole lot, so that nothing of it changes by being left out. */
export class CorrectionDto extends LotDto {
  @Uuid({ optional: true, description: 'Of the correction itself, so that it can be sent again' })
  id?: string;
  @Whole(1, 10_000, {
    optional: true,
    description: 'The revision that is corrected; refused (412) if there is a later one',
  })
  revision?: number;
  @OccurredAt(false) occurredAt!: string;
  @Uuid() jurisdictionId!: string;
  @Rejects(false) rejects!: RejectDto[];
  @Text(400) reason!: string;
}

export class PulledRejectDto extends RejectDto {
  @Uuid({ optional: true, description: 'Of this entry, so that it can be sent again' }) id?: string;
}

export class DropOffsQuery extends PageQuery {
  @Uuid({ optional: true }) siteId?: string;
  @Uuid({ optional: true }) shiftId?: string;
  @Instant({ optional: true, description: 'Occurred at or after' }) from?: string;
  @Instant({ optional: true, description: 'Occurred before' }) to?: string;
  @OneOf(['true'], { optional: true, description: 'Only what is not all in batches' }) unassigned?: 'true';
  @Uuid({ optional: true, description: 'Only what went with that haul' }) haulId?: string;
}

export class KeptRejectDto {
  @OneOf(contaminants) contaminant!: Contaminant;
  @Num(0, 50_000) massKg!: number;
  @OneOf(destinations) wentTo!: Destination;
  @Json() entered!: { mass: Mass };
}

/** A lot as one revision states it. */
export class RevisionDto {
  @Whole(1, 10_000) revision!: number;
  @Instant() occurredAt!: string;
  @MaterialCode() material!: string;
  @Uuid() jurisdictionId!: string;
  @OneOf(depositors) depositor!: Depositor;
  @OneOf(massBases, {
    description: '`volume` is an estimate; `haul` is the share of a weight that was taken of a whole haul',
  })
  basis!: MassBasis;
  @Num(0, 50_000, { nullable: true }) grossKg!: number | null;
  @Num(0, 50_000, { nullable: true }) tareKg!: number | null;
  @Num(0, 50_000) netKg!: number;
  @Num(0, 50_000) rejectedKg!: number;
  @Num(0, 50_000) acceptedKg!: number;
  @Num(0, 200_000, { nullable: true }) volumeL!: number | null;
  @Num(0, 10_000, { nullable: true }) densityKgM3!: number | null;
  @Text(2000, { nullable: true }) densitySource!: string | null;
  @Uuid({ nullable: true }) containerId!: string | null;
  @Uuid({ nullable: true, description: 'The receipt of the haul that it was weighed with' })
  haulReceiptId!: string | null;
  @Uuid({ nullable: true }) instrumentId!: string | null;
  @Text(1000, { nullable: true }) note!: string | null;
  @ListOf(() => KeptRejectDto, 1000) rejects!: KeptRejectDto[];
  @ListOf(() => WarningDto, 20) warnings!: WarningDto[];
  @Json({ description: 'Exactly what was typed' }) entered!: Amount['entered'];
  @Flag() voided!: boolean;
  @Text(400, { nullable: true, description: 'Why this revision was made; null on the first' }) reason!:
    string | null;
  @Instant() recordedAt!: string;
  @Uuid() recordedBy!: string;
}

/** Where that lies which is in no batch. */
export class LiesDto {
  @OneOf(places, { description: '`elsewhere`: composted by somebody else, and put into no batch here' })
  place!: Place;
  @Uuid({ nullable: true, description: 'The hub, or the yard that received it' }) siteId!: string | null;
  @Uuid({ nullable: true, description: 'The haul it went with' }) haulId!: string | null;
  @Text(120, { nullable: true, description: 'Who composts it, where that is somebody else' })
  elsewhere!: string | null;
}

export class DropOffDto extends RevisionDto {
  @Uuid() id!: string;
  @Uuid() siteId!: string;
  @Uuid({ nullable: true }) shiftId!: string | null;
  @Uuid({ nullable: true, description: 'The import it came with' }) importId!: string | null;
  @Num(0, 50_000, { description: 'Accepted and in no batch yet' }) unassignedKg!: number;
  @Nested(() => LiesDto, { nullable: true, description: 'Null of a voided one' }) lies!: LiesDto | null;
}

export class DropOffHistoryDto extends DropOffDto {
  @ListOf(() => RevisionDto, 10_000, { description: 'In order, the one that holds last' })
  revisions!: RevisionDto[];
}

export class DropOffPageDto {
  @ListOf(() => DropOffDto, 200) items!: DropOffDto[];
  @Text(400, { nullable: true }) next!: string | null;
}
