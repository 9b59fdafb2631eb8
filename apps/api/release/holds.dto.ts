import { Instant, ListOf, Text, Uuid } from '../http/dto/fields.js';
import { NewEntryDto } from '../http/dto/entries.dto.js';

export class NewHoldDto extends NewEntryDto {
  @Text(2000, { description: 'Why nothing of the batch may leave for now' }) reason!: string;
}

export class LiftDto {
  @Text(2000, { min: 10, description: 'What was found out, and by whom' }) reason!: string;
}

export class HoldDto {
  @Uuid() id!: string;
  @Uuid() batchId!: string;
  @Instant() occurredAt!: string;
  @Text(2000) reason!: string;
  @Instant() recordedAt!: string;
  @Uuid() recordedBy!: string;
  @Instant({ nullable: true, description: 'Null while it stands' }) liftedAt!: string | null;
  @Uuid({ nullable: true }) liftedBy!: string | null;
  @Text(2000, { nullable: true }) liftReason!: string | null;
}

export class HoldPageDto {
  @ListOf(() => HoldDto, 200) items!: HoldDto[];
  @Text(400, { nullable: true }) next!: string | null;
}
