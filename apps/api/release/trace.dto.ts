import {
  Flag,
  Instant,
  ListOf,
  Nested,
  Num,
  OneOf,
  Text,
  TextList,
  Uuid,
  Whole,
} from '../http/dto/fields.js';
import { type CompostUse, compostUses, type Recipient, recipients } from './distributions.dto.js';

const MOST = 1e9;
const Kg = (description?: string) => Num(0, MOST, description ? { description } : {});
const SharePercent = () =>
  Num(0, 100, { nullable: true, description: 'By wet mass as put in, water not counted; null of nothing' });

export const linkKinds = ['overs', 'merge'] as const;

export class WayDto {
  @OneOf(linkKinds) kind!: (typeof linkKinds)[number];
  @Uuid() fromBatchId!: string;
  @Text(40) fromBatch!: string;
  @Kg() massKg!: number;
  @Kg('Of that mass, what is of the thing asked about') ofItKg!: number;
}

/** A batch that it came to. */
export class TracedBatchDto {
  @Uuid() id!: string;
  @Text(40) code!: string;
  @Text(12) site!: string;
  @Text(20) stage!: string;
  @Flag() onHold!: boolean;
  @Whole(0, 1e6, { description: '0 where it went in itself; else the fewest steps of overs and merges' })
  steps!: number;
  @ListOf(() => WayDto, 10_000, {
    description: 'By which overs and merges it came; empty where it only went in itself',
  })
  ways!: WayDto[];
  @Kg('All that went in, water not counted') inputKg!: number;
  @Kg('Of it, what is of the thing asked about; 0 is less than half a gram, not nothing') ofItKg!: number;
  @SharePercent() sharePercent!: number | null;
  @Num(-MOST, MOST, { description: 'Screened, and handed to nobody yet' }) compostLeftKg!: number;
  @Num(-MOST, MOST, { description: 'Screened out, and in no later batch yet' }) oversLeftKg!: number;
}

const LabelCode = () => Text(60, { description: 'As its label has it', example: 'QS-26-004/3' });

export class TracedDistributionDto {
  @Uuid() id!: string;
  @LabelCode() code!: string;
  @Uuid() batchId!: string;
  @Text(40) batch!: string;
  @Instant() occurredAt!: string;
  @OneOf(recipients) recipient!: Recipient;
  @OneOf(compostUses) use!: CompostUse;
  @Kg() massKg!: number;
  @Num(0, MOST, { nullable: true }) volumeL!: number | null;
  @Kg('Of the mass, what is of the thing asked about') ofItKg!: number;
  @SharePercent() sharePercent!: number | null;
  @Text(2000, { nullable: true }) note!: string | null;
}

export class TraceCautionDto {
  @Text(100) topic!: string;
  @Text(2000) text!: string;
  @Text(1000) source!: string;
}

class TraceDto {
  @Instant({ description: 'What was recorded by then' }) asOf!: string;
  @TextList(/./s, 20, { description: 'What the figures take for granted' }) assumptions!: string[];
  @ListOf(() => TraceCautionDto, 20) cautions!: TraceCautionDto[];
}

class ForwardTraceDto extends TraceDto {
  @ListOf(() => TracedBatchDto, 100_000, { description: 'The nearest first, however little came' })
  batches!: TracedBatchDto[];
  @ListOf(() => TracedDistributionDto, 1_000_000, { description: 'Of all these batches, in order of time' })
  distributions!: TracedDistributionDto[];
  @Kg('All that was handed out of these batches') handedOutKg!: number;
  @Kg('Of that, what is of the thing asked about') handedOutOfItKg!: number;
}

export class TracedLotDto {
  @Uuid() id!: string;
  @Instant() occurredAt!: string;
  @Uuid() siteId!: string;
  @Text(12) site!: string;
  @Text(40) material!: string;
  @Text(120) materialName!: string;
  @Text(200) jurisdiction!: string;
  @Text(40) depositor!: string;
  @Flag() voided!: boolean;
  @Kg() acceptedKg!: number;
  @Kg() inBatchesKg!: number;
  @Kg('In no batch: it waits, is on the road, or went to somebody else') inNoBatchKg!: number;
  @Text(200, {
    nullable: true,
    description: 'Who composts it instead, where it went to somebody else: tell them too',
  })
  elsewhere!: string | null;
}

export class DropOffTraceDto extends ForwardTraceDto {
  @Nested(() => TracedLotDto) dropOff!: TracedLotDto;
}

export const sourceKinds = ['drop-off', 'stock', 'batch'] as const;

/** `batch`: of what that batch was made, which gave overs, nothing is recorded. */
export class SourceDto {
  @OneOf(sourceKinds) kind!: (typeof sourceKinds)[number];
  @Uuid({ nullable: true, description: 'Of the drop-off or the batch; null of stock' }) id!: string | null;
  @Text(40, { nullable: true, description: 'Code of the material' }) material!: string | null;
  @Text(120) name!: string;
  @Instant({ nullable: true }) occurredAt!: string | null;
  @Text(12, { nullable: true, description: 'Where it was dropped off' }) site!: string | null;
  @Text(200, { nullable: true }) jurisdiction!: string | null;
  @Kg() massKg!: number;
  @SharePercent() sharePercent!: number | null;
}

const SOURCES = { description: 'The most first; together the whole mass, to the gram' };
const FEWER = { description: 'Further sources whose part came to less than half a gram' };

export class BatchTraceDto extends ForwardTraceDto {
  @Uuid() id!: string;
  @Text(40) code!: string;
  @Text(12) site!: string;
  @Kg('All that went in, water not counted') inputKg!: number;
  @ListOf(() => SourceDto, 1_000_000, SOURCES) sources!: SourceDto[];
  @Whole(0, 1e9, FEWER) lesserSources!: number;
}

export class DistributionTraceDto extends TraceDto {
  @Uuid() id!: string;
  @LabelCode() code!: string;
  @Uuid() batchId!: string;
  @Text(40) batch!: string;
  @Text(12) site!: string;
  @Instant() occurredAt!: string;
  @OneOf(recipients) recipient!: Recipient;
  @OneOf(compostUses) use!: CompostUse;
  @Kg() massKg!: number;
  @TextList(/./s, 100_000, { description: 'Codes of all batches that led into it by overs and merges' })
  ledFrom!: string[];
  @ListOf(() => SourceDto, 1_000_000, SOURCES) sources!: SourceDto[];
  @Whole(0, 1e9, FEWER) lesserSources!: number;
}
