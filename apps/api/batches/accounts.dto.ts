import { type InputKind, inputKinds, type OutputKind, outputKinds } from '#libs/accounting';
import { Instant, ListOf, Nested, Num, OneOf, Text, Uuid, Whole } from '../http/dto/fields.js';
import type { BatchBalance } from './balance.service.js';

const unknown = { nullable: true, description: 'Null when unknown' };
const MOST = 1e12;

export class InputLineDto {
  @OneOf(inputKinds) kind!: InputKind;
  @Text(40, { description: 'Material code' }) label!: string;
  @Num(0, MOST) massKg!: number;
  @Num(0, MOST, { description: 'Part of it that was estimated from a volume' }) estimatedKg!: number;
}

export class OutputLineDto {
  @OneOf(outputKinds) kind!: OutputKind;
  @Text(200) label!: string;
  @Num(0, MOST) massKg!: number;
}

export class BalanceDto implements BatchBalance {
  @ListOf(() => InputLineDto, 1000) inputs!: InputLineDto[];
  @Num(0, MOST) inputKg!: number;
  @Num(0, MOST) weighedKg!: number;
  @Num(0, MOST) estimatedKg!: number;
  @ListOf(() => OutputLineDto, 1000) outputs!: OutputLineDto[];
  @Num(0, MOST) outputKg!: number;
  @Num(0, MOST, unknown) stillHereKg!: number | null;
  @Text(400, { description: 'How that is known, or why not' }) stillHere!: string;
  @Num(0, MOST, { ...unknown, description: 'Input less output less what is still here' })
  processLossKg!: number | null;
  @Num(0, 100, {
    nullable: true,
    description:
      'Compost out of all that went in, by wet mass. Null until some came out, or nothing is left there',
  })
  yieldPercent!: number | null;
  @Num(0, MOST, { nullable: true, description: 'More came out than went in by so much: an error to mend' })
  excessKg!: number | null;
  @Text(400, { nullable: true }) problem!: string | null;
}

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
