import { Flag, Instant, ListOf, Text, Uuid } from '../http/dto/fields.js';

const REFERENCE = 300;
const NOTE = 1_000;

export class NewVerificationDto {
  @Uuid({ optional: true }) id?: string;
  @Instant({ optional: true, description: 'Now, if left out' }) occurredAt?: string;
  @Flag() passed!: boolean;
  @Text(REFERENCE, {
    example: '10 kg test mass, shown 10.00',
    description: 'Checked against what, and what it showed',
  })
  reference!: string;
  @Text(NOTE, { optional: true }) note?: string;
}

export class VerificationDto {
  @Uuid() id!: string;
  @Uuid() instrumentId!: string;
  @Instant() occurredAt!: string;
  @Flag() passed!: boolean;
  @Text(REFERENCE) reference!: string;
  @Text(NOTE, { nullable: true }) note!: string | null;
  @Instant() recordedAt!: string;
  @Uuid() recordedBy!: string;
}

export class VerificationPageDto {
  @ListOf(() => VerificationDto, 200) items!: VerificationDto[];
  @Text(400, { nullable: true }) next!: string | null;
}
