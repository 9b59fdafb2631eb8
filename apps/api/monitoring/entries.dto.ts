import { Instant, Text, Uuid } from '../http/dto/fields.js';

/** What every record of work at a batch carries in a request. */
export class NewEntryDto {
  @Uuid({ optional: true }) id?: string;
  @Instant({ optional: true, description: 'When it happened; now, if left out' }) occurredAt?: string;
  @Text(2000, { optional: true }) note?: string;
}

/** And in an answer. */
export class EntryDto {
  @Uuid() id!: string;
  @Uuid() batchId!: string;
  @Instant() occurredAt!: string;
  @Text(2000, { nullable: true }) note!: string | null;
  @Instant() recordedAt!: string;
  @Uuid() recordedBy!: string;
  @Instant({ nullable: true }) voidedAt!: string | null;
  @Text(400, { nullable: true }) voidReason!: string | null;
}
