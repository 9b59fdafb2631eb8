import { headroomWarnings, type HeadroomWarning } from '#libs/accounting';
import { Flag, Instant, ListOf, Num, OneOf, Text, Uuid, Whole } from '../http/dto/fields.js';
import { PageQuery } from '../http/dto/paging.js';
import { OccurredAt } from './lot-fields.js';

const LOTS_MOST = 100_000;

export class NewShiftDto {
  @Uuid({ optional: true, description: 'UUIDv7 made by the client, so that it can be sent again' })
  id?: string;
  @Uuid({ description: 'A hub' }) siteId!: string;
  @OccurredAt(true) occurredAt?: string;
  @Uuid({ optional: true, description: 'The scale that its lots are weighed on' }) instrumentId?: string;
  @Text(1000, { optional: true }) note?: string;
}

export class CloseShiftDto {
  @Whole(0, LOTS_MOST, { description: 'Lots counted by hand, voided ones left out' }) countedLots!: number;
  @OccurredAt(true) occurredAt?: string;
  @Text(1000, { optional: true }) note?: string;
}

export class ShiftsQuery extends PageQuery {
  @Uuid({ optional: true }) siteId?: string;
  @OneOf(['true', 'false'], { optional: true, description: 'Only open ones, or only closed ones' })
  open?: 'true' | 'false';
}

export class ShiftDto {
  @Uuid() id!: string;
  @Uuid() siteId!: string;
  @Instant() openedAt!: string;
  @Uuid() openedBy!: string;
  @Instant({ nullable: true }) closedAt!: string | null;
  @Uuid({ nullable: true }) closedBy!: string | null;
  @Uuid({ nullable: true }) instrumentId!: string | null;
  @Text(1000, { nullable: true }) note!: string | null;
  @Text(1000, { nullable: true }) closingNote!: string | null;
  @Whole(0, LOTS_MOST, { description: 'Recorded up to now, voided ones left out' }) lots!: number;
  @Whole(0, LOTS_MOST, { description: 'Loads turned away' }) refusals!: number;
  @Num(0, 1e9) acceptedKg!: number;
  @Num(0, 1e9) rejectedKg!: number;
  @Num(0, 1, {
    nullable: true,
    description: 'Part of the accepted mass that is estimated; null while there is none',
  })
  estimatedShare!: number | null;
  @Whole(0, LOTS_MOST, { nullable: true }) countedLots!: number | null;
  @Flag({
    nullable: true,
    description: 'Whether as many lots are recorded as were counted; null while it is open',
  })
  countAgrees!: boolean | null;
  @Instant() recordedAt!: string;
}

class PermitWarningDto implements HeadroomWarning {
  @OneOf(headroomWarnings) about!: HeadroomWarning['about'];
  @Text(4_000) text!: string;
}

export class OpenedShiftDto extends ShiftDto {
  @ListOf(() => PermitWarningDto, 10_000, {
    description:
      'What to see to under the permit of the hub, as of now: what it takes in, and how long it runs',
  })
  warnings!: HeadroomWarning[];
}

export class ShiftPageDto {
  @ListOf(() => ShiftDto, 200) items!: ShiftDto[];
  @Text(400, { nullable: true }) next!: string | null;
}
