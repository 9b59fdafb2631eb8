import { Instant, ListOf, Nested, Num, OneOf, Text, TextList, Uuid, Whole } from '../http/dto/fields.js';
import { Mass, MassDto } from '../http/dto/quantities.js';
import { type MassBasis, massBases } from '#libs/accounting';

const UUID = /^[0-9a-f]{8}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{12}$/i;
/** As many as a bulk of drop-offs. */
const MOST_ITEMS = 500;

export class AssignmentItemDto {
  @Uuid({ optional: true, description: 'Of the assignment: an item that is sent again with it counts once' })
  id?: string;
  @Uuid() dropOffId!: string;
  @Mass({ optional: true, description: 'All that is left of the drop-off, if left out' }) mass?: MassDto;
}

/** One of `siteIds` and `haulIds`. */
export class AllUnassignedDto {
  @TextList(UUID, 200, {
    optional: true,
    description:
      'Hubs at which you are an operator at least: what waits there, and what the yard received from them; of the yard itself, all that it received',
  })
  siteIds?: string[];
  @TextList(UUID, 200, { optional: true, description: 'Hauls that the yard received' }) haulIds?: string[];
  @Instant({
    optional: true,
    description: 'Drop-offs up to this time; up to the assignment’s own, if left out',
  })
  upTo?: string;
}

/** One of `items` and `allUnassigned`. */
export class NewAssignmentsDto {
  @Instant({ optional: true }) occurredAt?: string;
  @ListOf(() => AssignmentItemDto, MOST_ITEMS, { optional: true, min: 1 }) items?: AssignmentItemDto[];
  @Nested(() => AllUnassignedDto, { optional: true }) allUnassigned?: AllUnassignedDto;
}

export class AssignmentDto {
  @Uuid() id!: string;
  @Uuid() batchId!: string;
  @Uuid() dropOffId!: string;
  @Uuid({ description: 'The hub it was dropped off at' }) siteId!: string;
  @Text(40) material!: string;
  @OneOf(massBases) basis!: MassBasis;
  @Num(0, 1e9) massKg!: number;
  @Instant() occurredAt!: string;
  @Instant() recordedAt!: string;
  @Uuid() recordedBy!: string;
  @Instant({ nullable: true }) voidedAt!: string | null;
  @Text(400, { nullable: true }) voidReason!: string | null;
}

export class AssignedDto {
  @Whole(0, 1e9) lots!: number;
  @Num(0, 1e9) massKg!: number;
  @ListOf(() => AssignmentDto, MOST_ITEMS, {
    optional: true,
    description: 'Those sent as items, in their order',
  })
  items?: AssignmentDto[];
}

export class AssignmentPageDto {
  @ListOf(() => AssignmentDto, 200) items!: AssignmentDto[];
  @Text(400, { nullable: true }) next!: string | null;
}
