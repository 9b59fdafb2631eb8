import { Instant, ListOf, Nested, Num, OneOf, Text, Uuid, Whole } from '../http/dto/fields.js';
import { linkKinds } from './lineage.records.js';

const MOST = 1e12;

export class BatchRefDto {
  @Uuid() id!: string;
  @Text(40) code!: string;
}

export class BatchLinkDto {
  @OneOf(linkKinds, { description: 'All that lay there, by a merge; or overs' })
  kind!: (typeof linkKinds)[number];
  @Whole(1, 50, { description: 'Steps away from the batch asked about' }) steps!: number;
  @Nested(() => BatchRefDto) giver!: BatchRefDto;
  @Nested(() => BatchRefDto) taker!: BatchRefDto;
  @Num(0, MOST) massKg!: number;
  @Instant() firstAt!: string;
  @Instant() lastAt!: string;
}

export class LineageDto {
  @ListOf(() => BatchLinkDto, 10_000, { description: 'What led into the batch' }) from!: BatchLinkDto[];
  @ListOf(() => BatchLinkDto, 10_000, { description: 'What leads out of it' }) to!: BatchLinkDto[];
}
