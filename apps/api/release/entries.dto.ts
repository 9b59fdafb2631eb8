import { Instant, Text, Uuid } from '../http/dto/fields.js';

/** What every record about the release of a batch carries in a request. */
export class NewRecordDto {
  @Uuid({ optional: true }) id?: string;
  @Instant({ optional: true, description: 'When it happened; now, if left out' }) occurredAt?: string;
}

/** And in an answer. */
export class RecordDto {
  @Uuid() id!: string;
  @Uuid() batchId!: string;
  @Instant() occurredAt!: string;
  @Instant() recordedAt!: string;
  @Uuid() recordedBy!: string;
  @Instant({ nullable: true }) voidedAt!: string | null;
  @Text(400, { nullable: true }) voidReason!: string | null;
}
