import { Instant, Text, Uuid } from './fields.js';

/** What every record of a batch carries in a request. */
export class NewEntryDto {
  @Uuid({ optional: true }) id?: string;
  @Instant({ optional: true, description: 'When it happened; now, if left out' }) occurredAt?: string;
}

export class NewNotedEntryDto extends NewEntryDto {
  @Text(2000, { optional: true }) note?: string;
}

/** And in an answer. */
export class EntryDto {
  @Uuid() id!: string;
  @Uuid() batchId!: string;
  @Instant() occurredAt!: string;
  @Instant() recordedAt!: string;
  @Uuid() recordedBy!: string;
  @Instant({ nullable: true }) voidedAt!: string | null;
  @Text(400, { nullable: true }) voidReason!: string | null;
}

export class NotedEntryDto extends EntryDto {
  @Text(2000, { nullable: true }) note!: string | null;
}
