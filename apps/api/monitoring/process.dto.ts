import {
  batchMethods,
  type BatchMethod,
  type EvidenceKind,
  evidenceKinds,
  type GoverningFigure,
  governingFigures,
  type RuleReading,
  ruleReadings,
  type TextStatus,
  textStatuses,
  type VerdictStatus,
  verdictStatuses,
} from '#libs/process';
import { Instant, ListOf, Nested, Num, OneOf, Text, TextList, Uuid, Whole } from '../http/dto/fields.js';

const CODE = { example: 'us-503-pfrp-windrow' };
const MOST = 1e9;

export class ProcessQuery {
  @Text(60, { ...CODE, optional: true, description: 'Another rule than the one of the batch' }) rule?: string;
  @OneOf(ruleReadings, { optional: true, description: 'Where the text of the rule leaves it open' })
  reading?: RuleReading;
}

export class ProcessRuleDto {
  @Text(60, CODE) code!: string;
  @Text(200) title!: string;
  @Text(200) jurisdiction!: string;
  @Text(400, { description: 'The document and section that say it' }) citation!: string;
  @Whole(1900, 2100) year!: number;
  @OneOf(textStatuses, { description: 'How sure the wording is' }) textStatus!: TextStatus;
  @Text(400, { description: 'Where the figures were read' }) textSource!: string;
  @Num(0, 150) thresholdC!: number;
  @Num(0, 150, { nullable: true }) upperLimitC!: number | null;
  @Num(0, MOST, { nullable: true }) hours!: number | null;
  @Num(0, MOST, { nullable: true }) days!: number | null;
  @OneOf(['elapsed', 'daily']) basis!: 'elapsed' | 'daily';
  @OneOf([...ruleReadings, 'unstated']) continuity!: RuleReading | 'unstated';
  @OneOf(governingFigures) governing!: GoverningFigure;
  @Whole(1, 100) minimumProbes!: number;
  @Num(0, 1000, { nullable: true }) minimumDepthCm!: number | null;
  @Num(0, 1000, { nullable: true }) longestGapHours!: number | null;
  @Whole(0, 1000) turns!: number;
  @Num(0, 10_000) turnSpacingHours!: number;
  @Num(0, 1000, { nullable: true }) graceAfterTurnHours!: number | null;
  @TextList(/^[a-z-]+$/, 10, { values: batchMethods }) methods!: BatchMethod[];
  @TextList(/./s, 100, { description: 'Choices made in coding the text' }) notes!: string[];
}

export class ProcessRuleListDto {
  @ListOf(() => ProcessRuleDto, 500) items!: ProcessRuleDto[];
}

export class RuleNameDto {
  @Text(60, CODE) code!: string;
  @Text(400) citation!: string;
  @Text(200) title!: string;
  @OneOf(textStatuses) textStatus!: TextStatus;
}

/** What the rule asks, as it was applied: one of `hours` and `days` is set. */
export class RequiredDto {
  @Num(0, MOST, { nullable: true }) hours!: number | null;
  @Num(0, MOST, { nullable: true }) days!: number | null;
  @Whole(0, 1000) turns!: number;
  @Num(0, 10_000) turnSpacingHours!: number;
  @Num(0, 150) thresholdC!: number;
  @Num(0, 150, { nullable: true }) upperLimitC!: number | null;
  @Whole(1, 100) probes!: number;
  @Num(0, 1000, { nullable: true }) depthCm!: number | null;
  @Num(0, 1000, { nullable: true }) longestGapHours!: number | null;
}

export class SpanDto {
  @Instant() from!: string;
  @Instant() to!: string;
}

export class EvidenceDto extends SpanDto {
  @OneOf(evidenceKinds) kind!: EvidenceKind;
  @Text(2000, { description: 'In words, with the local times of the yard' }) text!: string;
  @Uuid({ nullable: true }) checkId!: string | null;
}

export class TimeAboveDto {
  @Num(0, 150) temperatureC!: number;
  @Num(0, MOST) hours!: number;
}

export class HeatIntegralDto extends SpanDto {
  @Num(0, MOST, { description: '1 is the whole holding time of the published equation' })
  holdingTimes!: number;
  @Text(400) citation!: string;
}

/** It speaks of the recorded criteria of a rule, never of legality. */
export class ProcessDto {
  @Nested(() => RuleNameDto, { nullable: true, description: 'Null when no rule is named for the batch' })
  rule!: RuleNameDto | null;
  @OneOf(ruleReadings, { nullable: true }) reading!: RuleReading | null;
  @OneOf(verdictStatuses, { description: '`insufficient-data` as well when no rule is named' })
  status!: VerdictStatus;
  @Num(0, MOST) creditedHours!: number;
  @Num(0, MOST) creditedDays!: number;
  @Whole(0, 10_000, { description: 'Turns credited' }) turns!: number;
  @Nested(() => RequiredDto, { nullable: true }) required!: RequiredDto | null;
  @Instant({ nullable: true }) clockStartedAt!: string | null;
  @Instant({ nullable: true, description: 'First instant at which the whole rule was met' }) metAt!:
    string | null;
  @ListOf(() => SpanDto, 100_000) creditedSpans!: SpanDto[];
  @ListOf(() => EvidenceDto, 100_000, { description: 'In order of time' }) evidence!: EvidenceDto[];
  @TextList(/./s, 100) notes!: string[];
  @ListOf(() => TimeAboveDto, 10, { description: 'For information, since the last raw material' })
  timeAboveHours!: TimeAboveDto[];
  @Nested(() => HeatIntegralDto, { nullable: true }) heatIntegral!: HeatIntegralDto | null;
}
