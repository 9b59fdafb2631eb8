import type { FlowBasis } from '#libs/accounting';
import { NewNotedEntryDto } from '../http/dto/entries.dto.js';
import { Instant, Json, ListOf, Nested, Num, OneOf, Text, Uuid } from '../http/dto/fields.js';
import { Mass, MassDto } from '../http/dto/quantities.js';
import { PileDto } from './pile-measurements.dto.js';

const mergeBases = ['scale', 'volume', 'records'] as const satisfies readonly FlowBasis[];

/** At most one of `mass` and `pile`; with neither it is what had gone into that batch less what had come out of it. */
export class NewMergeDto extends NewNotedEntryDto {
  @Uuid({
    description: 'The batch that is put into this one, of the same yard; all that lies there of it goes',
  })
  fromBatchId!: string;
  @Mass({ optional: true, description: 'As it was weighed' }) mass?: MassDto;
  @Nested(() => PileDto, {
    optional: true,
    description:
      'As it lay there, with a bucket test: an estimate, kept with its batch as a pile measurement',
  })
  pile?: PileDto;
}

export class MergeDto {
  @Uuid() id!: string;
  @Uuid() batchId!: string;
  @Text(40, { description: 'Code of the batch that took it' }) batch!: string;
  @Uuid() fromBatchId!: string;
  @Text(40, { description: 'Code of the batch that was put into it' }) fromBatch!: string;
  @Instant() occurredAt!: string;
  @OneOf(mergeBases, {
    description: '`volume`: of a pile and a bucket; `records`: what had gone in less what had come out',
  })
  basis!: FlowBasis;
  @Num(0, 1e9) massKg!: number;
  @Text(2000, { nullable: true }) note!: string | null;
  @Json({ description: 'What was typed of its mass' }) entered!: object;
  @Instant() recordedAt!: string;
  @Uuid() recordedBy!: string;
}

export class MergePageDto {
  @ListOf(() => MergeDto, 200) items!: MergeDto[];
  @Text(400, { nullable: true }) next!: string | null;
}
