import {
  type CautionKind,
  cautionKinds,
  type Condition,
  type ConditionKey,
  conditionKeys,
  type EvidenceKind,
  evidenceKinds,
  type RulePurpose,
  rulePurposes,
  type RuleReading,
  ruleReadings,
  type TextStatus,
  textStatuses,
  type VerdictStatus,
  verdictStatuses,
} from '#libs/process';
import {
  Flag,
  Instant,
  ListOf,
  Nested,
  Num,
  OneOf,
  RuleCode,
  Text,
  TextList,
  Uuid,
  Whole,
  WholeInQuery,
} from '../http/dto/fields.js';

const MOST = 1e9;
const sentences = (description: string) => TextList(/./s, 100, { description });

export class ProcessQuery {
  @RuleCode({ optional: true, description: 'Another rule than the one of the batch' }) rule?: string;
  @WholeInQuery(1, MOST, {
    optional: true,
    description: 'Of that rule; the one the batch began under, if left out',
  })
  version?: number;
  @OneOf(ruleReadings, { optional: true, description: 'Where the text of the rule leaves it open' })
  reading?: RuleReading;
  @OneOf(['true', 'false'], {
    optional: true,
    description: 'Every rule for the method of the batch, for information',
  })
  all?: 'true' | 'false';
}

export class RuleNameDto {
  @RuleCode() code!: string;
  @Whole(1, MOST) version!: number;
  @Text(200) title!: string;
  @Text(400) citation!: string;
  @Text(200) jurisdiction!: string;
  @Text(20, { nullable: true }) region!: string | null;
  @OneOf(textStatuses, { description: 'How sure the wording is' }) textStatus!: TextStatus;
  @sentences('What of it is from memory though the rest was read') fromMemory!: string[];
}

export class RequiredLevelDto {
  @Num(0, 150) thresholdC!: number;
  @Flag({ description: 'Above it, not at it' }) strict!: boolean;
}

export class RequiredPeakDto extends RequiredLevelDto {
  @Num(0, MOST) hours!: number;
}

export class RequiredCarbonDto {
  @Num(0, 1000) least!: number;
  @Num(0, 1000) most!: number;
}

/** What the rule asks, as it was applied: one of `hours` and `days` is set. */
export class RequiredDto {
  @Num(0, MOST, { nullable: true }) hours!: number | null;
  @Num(0, MOST, { nullable: true }) days!: number | null;
  @Whole(0, 1000) turns!: number;
  @Num(0, 10_000) turnSpacingHours!: number;
  @Num(0, 10_000, { nullable: true, description: 'Unbroken, before a turn counts' })
  hotHoursBeforeTurn!: number | null;
  @Num(0, 150) thresholdC!: number;
  @Flag({ description: 'Above it, not at it' }) thresholdStrict!: boolean;
  @Num(0, 150, { nullable: true }) upperLimitC!: number | null;
  @Nested(() => RequiredPeakDto, { nullable: true }) peak!: RequiredPeakDto | null;
  @Nested(() => RequiredLevelDto, { nullable: true }) average!: RequiredLevelDto | null;
  @Num(0, 100, { nullable: true }) leastMoisturePercent!: number | null;
  @Nested(() => RequiredCarbonDto, { nullable: true }) carbonToNitrogen!: RequiredCarbonDto | null;
  @Whole(1, 100) probes!: number;
  @Whole(1, 100) zones!: number;
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

export class ConditionDto {
  @OneOf(conditionKeys) key!: ConditionKey;
  @OneOf(['met', 'unmet', 'unknown']) state!: Condition['state'];
  @Text(2000) text!: string;
}

/** Readings that are used although something speaks against the instrument; `set-aside`: that are not used. */
export class ProcessCautionDto extends SpanDto {
  @OneOf(cautionKinds) kind!: CautionKind;
  @Text(60) instrument!: string;
  @Text(2000) text!: string;
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

class StandingDto {
  @OneOf(verdictStatuses, { description: '`insufficient-data` as well when no rule is named' })
  status!: VerdictStatus;
  @Num(0, MOST) creditedHours!: number;
  @Num(0, MOST) creditedDays!: number;
  @Whole(0, 10_000, { description: 'Turns credited' }) turns!: number;
  @Instant({ nullable: true, description: 'First instant at which the whole rule was met' }) metAt!:
    string | null;
  @ListOf(() => EvidenceDto, 100_000, { description: 'In order of time' }) evidence!: EvidenceDto[];
}

/** The verdict under the reading that was not chosen. */
export class OtherReadingDto extends StandingDto {
  @OneOf(ruleReadings) reading!: RuleReading;
}

class VerdictDto extends StandingDto {
  @Instant({ nullable: true }) clockStartedAt!: string | null;
  @ListOf(() => ConditionDto, 20, { description: 'What the rule asks besides time and turns' })
  conditions!: ConditionDto[];
  @ListOf(() => ProcessCautionDto, 100_000, {
    description: 'What is doubtful about readings that were credited, and what was set aside',
  })
  cautions!: ProcessCautionDto[];
  @TextList(/./s, 100, { description: 'Choices that shaped the verdict, and what it does not say' })
  notes!: string[];
  @Nested(() => OtherReadingDto, {
    nullable: true,
    description: 'Where the text of the rule is silent; null of a rule that is told for information',
  })
  otherReading!: OtherReadingDto | null;
}

/** The verdict under another rule than the one the batch is judged by. */
export class FurtherVerdictDto extends VerdictDto {
  @Flag({ description: 'The permit asks for it; otherwise it is told for information' }) asked!: boolean;
  @Nested(() => RuleNameDto) rule!: RuleNameDto;
  @OneOf(rulePurposes) purpose!: RulePurpose;
  @OneOf(ruleReadings) reading!: RuleReading;
  @Nested(() => RequiredDto) required!: RequiredDto;
}

/** It speaks of the recorded criteria of a rule, never of legality. */
export class ProcessDto extends VerdictDto {
  @Nested(() => RuleNameDto, { nullable: true, description: 'Null when no rule is named for the batch' })
  rule!: RuleNameDto | null;
  @OneOf(rulePurposes, { nullable: true }) purpose!: RulePurpose | null;
  @OneOf(ruleReadings, { nullable: true }) reading!: RuleReading | null;
  @Nested(() => RequiredDto, { nullable: true }) required!: RequiredDto | null;
  @ListOf(() => SpanDto, 100_000) creditedSpans!: SpanDto[];
  @ListOf(() => TimeAboveDto, 10, { description: 'For information, since the last raw material' })
  timeAboveHours!: TimeAboveDto[];
  @Nested(() => HeatIntegralDto, { nullable: true }) heatIntegral!: HeatIntegralDto | null;
  @ListOf(() => FurtherVerdictDto, 1000, {
    description: 'Further rules of the permit; with `all`, every rule',
  })
  others!: FurtherVerdictDto[];
}
