import { Instant, ListOf, Nested, Num, Text, Uuid, Whole } from '../http/dto/fields.js';

const MOST = 1e12;

export class BatchRefDto {
  @Uuid() id!: string;
  @Text(40) code!: string;
}

export class OversLinkDto {
  @Whole(1, 20, { description: 'Steps away from the batch asked about' }) steps!: number;
  @Nested(() => BatchRefDto) giver!: BatchRefDto;
  @Nested(() => BatchRefDto) taker!: BatchRefDto;
  @Num(0, MOST) massKg!: number;
  @Instant() firstAt!: string;
  @Instant() lastAt!: string;
}

export class LineageDto {
  @ListOf(() => OversLinkDto, 10_000, { description: 'Overs that led into the batch' }) from!: OversLinkDto[];
  @ListOf(() => OversLinkDto, 10_000, { description: 'Overs that lead out of it' }) to!: OversLinkDto[];
}
