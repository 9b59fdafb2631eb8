import { Instant, ListOf, Text, Uuid, Whole } from '../http/dto/fields.js';
import { PageQuery } from '../http/dto/paging.js';

export class NewSetAsideDto {
  @Uuid({ optional: true }) id?: string;
  @Uuid({ description: 'The logger, by the id of its key' }) deviceId!: string;
  @Text(24, {
    optional: true,
    example: 'A1',
    description: 'What it told of this bay only; or `batchId`. Of all that it tells of, if both are left out',
  })
  bay?: string;
  @Uuid({ optional: true, description: 'What it told of this batch of its key only; or `bay`' })
  batchId?: string;
  @Text(40, { optional: true, example: 'core-1', description: 'One probe; all of them, if left out' })
  position?: string;
  @Instant({ description: 'Readings of this instant are among them' }) from!: string;
  @Instant({ description: 'Later, by at most 7 days, and over; readings of this instant are among them' })
  to!: string;
  @Text(400, { example: 'Probes lay in the aisle while the pile was turned' }) reason!: string;
}

export class SetAsideDto {
  @Uuid() id!: string;
  @Uuid() deviceId!: string;
  @Text(24, { nullable: true }) bay!: string | null;
  @Uuid({ nullable: true }) batchId!: string | null;
  @Text(40, { nullable: true }) position!: string | null;
  @Instant() from!: string;
  @Instant() to!: string;
  @Text(400) reason!: string;
  @Whole(0, 1e9, { description: 'Readings in it, those that came in later included' }) readings!: number;
  @Instant() recordedAt!: string;
  @Uuid() recordedBy!: string;
  @Instant({ nullable: true, description: 'Since then they count again' }) voidedAt!: string | null;
  @Text(400, { nullable: true }) voidReason!: string | null;
}

export class SetAsidePageDto {
  @ListOf(() => SetAsideDto, 200) items!: SetAsideDto[];
  @Text(400, { nullable: true }) next!: string | null;
}

export class SetAsideQuery extends PageQuery {
  @Uuid({ description: 'The logger, by the id of its key' }) deviceId!: string;
}
