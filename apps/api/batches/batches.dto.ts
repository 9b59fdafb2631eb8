import { type BatchMethod, batchMethods } from '#libs/process';
import { Instant, ListOf, Nested, Num, OneOf, Text, Uuid, Whole } from '../http/dto/fields.js';
import { PageQuery } from '../http/dto/paging.js';
import { type Stage, type StageByHand, stages, stagesByHand } from './stages.js';

const BAY = { example: 'A1', description: 'Code of a bay of the yard' };
const REASON_MAX = 400;

export class NewBatchDto {
  @Uuid({ optional: true }) id?: string;
  @Uuid({ description: 'The yard' }) siteId!: string;
  @Text(40, BAY) bay!: string;
  @OneOf(batchMethods) method!: BatchMethod;
  @Text(60, {
    optional: true,
    example: 'us-503-pfrp-windrow',
    description: 'Code of a process rule; the permit’s at that time, if left out',
  })
  processRule?: string;
  @Instant({ optional: true }) occurredAt?: string;
  @Text(2000, { optional: true }) note?: string;
}

export class BatchQuery extends PageQuery {
  @Uuid({ optional: true }) siteId?: string;
  @OneOf(stages, { optional: true }) stage?: Stage;
}

export class NewStageDto {
  @OneOf(stagesByHand, { description: '`released` is entered by a signature' }) to!: StageByHand;
  @Instant({ optional: true }) occurredAt?: string;
  @Text(REASON_MAX, { optional: true, description: 'Needed to condemn a batch' }) reason?: string;
}

export class NewMoveDto {
  @Uuid({ optional: true }) id?: string;
  @Text(40, BAY) bay!: string;
  @Instant({ optional: true }) occurredAt?: string;
}

export class StageEntryDto {
  @OneOf(stages) stage!: Stage;
  @Instant() enteredAt!: string;
  @Text(REASON_MAX, { nullable: true }) reason!: string | null;
}

export class StayDto {
  @Uuid() id!: string;
  @Text(40, BAY) bay!: string;
  @Instant() fromAt!: string;
  @Instant({ nullable: true, description: 'Null while it lies there' }) toAt!: string | null;
}

export class TotalsDto {
  @Whole(0, 1e9, { description: 'Assignments of drop-offs, voided ones left out' }) assignments!: number;
  @Num(0, 1e9) dropOffKg!: number;
  @Num(0, 1e9, { description: 'From stock, and water' }) amendmentKg!: number;
  @Num(0, 1e9) oversInKg!: number;
  @Num(0, 1e9, { description: 'From batches that were merged in' }) mergedInKg!: number;
  @Num(0, 1e9) inputKg!: number;
  @Num(0, 1e9, { description: 'Part of the input that was estimated from a volume' }) estimatedKg!: number;
  @Num(0, 1e9) outputKg!: number;
}

export class BatchLineDto {
  @Uuid() id!: string;
  @Uuid() siteId!: string;
  @Text(40, { example: 'QS-2026-014' }) code!: string;
  @OneOf(batchMethods) method!: BatchMethod;
  @Text(60, { nullable: true }) processRule!: string | null;
  @OneOf(stages) stage!: Stage;
  @Instant() stageEnteredAt!: string;
  @Text(40, { ...BAY, nullable: true }) bay!: string | null;
  @Instant() occurredAt!: string;
}

export class BatchDto extends BatchLineDto {
  @Text(2000, { nullable: true }) note!: string | null;
  @ListOf(() => StageEntryDto, 6, { description: 'In order' }) stages!: StageEntryDto[];
  @ListOf(() => StayDto, 10_000, { description: 'In order' }) stays!: StayDto[];
  @Nested(() => TotalsDto) totals!: TotalsDto;
  @Instant() recordedAt!: string;
  @Uuid() recordedBy!: string;
}

export class BatchPageDto {
  @ListOf(() => BatchLineDto, 200) items!: BatchLineDto[];
  @Text(400, { nullable: true }) next!: string | null;
}
