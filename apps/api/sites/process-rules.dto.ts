import {
  batchMethods,
  type BatchMethod,
  type GoverningFigure,
  governingFigures,
  type Microbe,
  microbes,
  type RulePurpose,
  rulePurposes,
  type RuleReading,
  ruleReadings,
  type TextStatus,
  textStatuses,
} from '#libs/process';
import {
  Flag,
  Instant,
  Json,
  ListOf,
  Nested,
  Num,
  OneOf,
  RuleCode,
  SENTENCE,
  Text,
  TextList,
  Whole,
  WholeInQuery,
} from '../http/dto/fields.js';
import { Depth, LengthDto, Temperature, TemperatureDto } from '../http/dto/quantities.js';

const MOST_HOURS = 10_000;
const MOST_VERSION = 1e9;
const continuities = [...ruleReadings, 'unstated'] as const;
const bases = ['elapsed', 'daily'] as const;
const logics = ['either', 'both'] as const;

const may = { optional: true };
const none = { nullable: true };
const sentences = (options: { optional?: boolean; description: string }) => TextList(SENTENCE, 100, options);

export class CarbonRangeDto {
  @Num(0.1, 1000) least!: number;
  @Num(0.1, 1000) most!: number;
}

export class MicrobeTestDto {
  @OneOf(microbes) microbe!: Microbe;
  @Num(0, 1e12, { ...may, description: 'Less than this passes; this or `atMost`' }) below?: number;
  @Num(0, 1e12, { ...may, description: 'This much still passes' }) atMost?: number;
  @Text(60, { example: 'MPN/g dry', description: 'In which a laboratory counts it' }) unit!: string;
}

export class MicrobeTermsDto {
  @OneOf(logics, { description: 'One of the tests is enough, or each must pass' }) logic!: 'either' | 'both';
  @ListOf(() => MicrobeTestDto, 10, { min: 1 }) tests!: MicrobeTestDto[];
  @Text(400) citation!: string;
  @OneOf(textStatuses) textStatus!: TextStatus;
}

/** What is the same as it is typed and as it is told. */
class RuleTextDto {
  @Text(200) title!: string;
  @OneOf(rulePurposes) purpose!: RulePurpose;
  @Text(200) jurisdiction!: string;
  @Text(400, { description: 'The document and section that say it' }) citation!: string;
  @Whole(1900, 2100, { description: 'Of the text that was coded' }) year!: number;
  @OneOf(textStatuses, { description: 'How sure the wording is' }) textStatus!: TextStatus;
  @Text(400, { description: 'Where the figures were read' }) textSource!: string;
  @OneOf(bases, { description: 'Hours between checks that held, or local days on which all held' })
  basis!: 'elapsed' | 'daily';
  @OneOf(continuities) continuity!: RuleReading | 'unstated';
  @TextList(/^[a-z-]+$/, 10, { values: batchMethods }) methods!: BatchMethod[];
}

export class NewLevelDto {
  @Temperature() threshold!: TemperatureDto;
  @Flag({ ...may, description: 'The text says "above": the threshold itself does not hold' })
  strict?: boolean;
}

export class NewPeakDto extends NewLevelDto {
  @Num(0.1, MOST_HOURS, { description: 'Of the time, so hot' }) hours!: number;
}

export class NewTurnTermsDto {
  @Whole(1, 1000) count!: number;
  @Num(0, MOST_HOURS, { ...may, description: 'Between one counted turn and the next' }) spacingHours?: number;
  @Num(0.1, MOST_HOURS, { ...may, description: 'Unbroken, before a turn counts' }) hotHoursBefore?: number;
}

/** A rule as it is typed; what is left out, the rule does not ask. */
export class ProcessRuleTermsDto extends RuleTextDto {
  @Text(20, { ...may, example: 'US-CO', description: 'ISO 3166 code of who wrote it' }) region?: string;
  @sentences({ ...may, description: 'What of it is from memory though the rest was read' })
  fromMemory?: string[];
  @Temperature({ description: 'A check holds at or above this' }) threshold!: TemperatureDto;
  @Flag({ ...may, description: 'The text says "above"' }) thresholdStrict?: boolean;
  @Temperature({ ...may, description: 'A check fails above this' }) upperLimit?: TemperatureDto;
  @Num(0.1, MOST_HOURS, { ...may, description: 'Either hours or days' }) hours?: number;
  @Num(0.1, 1000, { ...may, description: 'Either hours or days' }) days?: number;
  @Nested(() => NewPeakDto, { ...may, description: 'For part of the time it must be hotter still' })
  peak?: NewPeakDto;
  @Nested(() => NewLevelDto, { ...may, description: 'The mean over the time' }) average?: NewLevelDto;
  @OneOf(governingFigures, { ...may, description: 'The coldest probe, if left out' })
  governing?: GoverningFigure;
  @Whole(1, 100, { ...may, description: '1, if left out' }) minimumProbes?: number;
  @Whole(1, 20, { ...may, description: 'Places of the pile that a check must cover' }) minimumZones?: number;
  @Depth({ ...may, description: 'Probes nearer the surface are set aside' }) minimumDepth?: LengthDto;
  @Num(0.1, 1000, { ...may, description: 'Longest time between two checks that may be credited' })
  longestGapHours?: number;
  @Nested(() => NewTurnTermsDto, may) turns?: NewTurnTermsDto;
  @Num(0.1, 1000, { ...may, description: 'So long after a turn a cold check breaks nothing' })
  graceAfterTurnHours?: number;
  @Num(0.1, 100, { ...may, description: 'Water, percent of the whole mass, measured' })
  leastMoisturePercent?: number;
  @Nested(() => CarbonRangeDto, { ...may, description: 'C:N of the mix as it was built' })
  carbonToNitrogen?: CarbonRangeDto;
  @Nested(() => MicrobeTermsDto, { ...may, description: 'Tests of the product that go with it' })
  microbes?: MicrobeTermsDto;
  @sentences({ ...may, description: 'Choices made in coding the text' }) notes?: string[];
}

export class NewProcessRuleDto extends ProcessRuleTermsDto {
  @RuleCode({ description: 'None that the library has' }) code!: string;
}

/** Temperatures and depths of a rule as they were typed. */
export type RuleEntered = Pick<ProcessRuleTermsDto, 'threshold' | 'upperLimit' | 'minimumDepth'> & {
  peak?: TemperatureDto;
  average?: TemperatureDto;
};

export class LevelDto {
  @Num(0, 150) thresholdC!: number;
  @Flag() strict!: boolean;
}

export class PeakDto extends LevelDto {
  @Num(0, MOST_HOURS) hours!: number;
}

export class ProcessRuleDto extends RuleTextDto {
  @RuleCode() code!: string;
  @Whole(1, MOST_VERSION) version!: number;
  @Flag({ description: 'Of the programme; otherwise of the library' }) local!: boolean;
  @Text(20, none) region!: string | null;
  @sentences({ description: 'What of it is from memory though the rest was read' }) fromMemory!: string[];
  @Num(0, 150) thresholdC!: number;
  @Flag() thresholdStrict!: boolean;
  @Num(0, 150, none) upperLimitC!: number | null;
  @Num(0, MOST_HOURS, none) hours!: number | null;
  @Num(0, MOST_HOURS, none) days!: number | null;
  @Nested(() => PeakDto, none) peak!: PeakDto | null;
  @Nested(() => LevelDto, none) average!: LevelDto | null;
  @OneOf(governingFigures) governing!: GoverningFigure;
  @Whole(1, 100) minimumProbes!: number;
  @Whole(1, 100) minimumZones!: number;
  @Num(0, 1000, none) minimumDepthCm!: number | null;
  @Num(0, 1000, none) longestGapHours!: number | null;
  @Whole(0, 1000) turns!: number;
  @Num(0, MOST_HOURS) turnSpacingHours!: number;
  @Num(0, MOST_HOURS, none) hotHoursBeforeTurn!: number | null;
  @Num(0, 1000, none) graceAfterTurnHours!: number | null;
  @Num(0, 100, none) leastMoisturePercent!: number | null;
  @Nested(() => CarbonRangeDto, none) carbonToNitrogen!: CarbonRangeDto | null;
  @Nested(() => MicrobeTermsDto, none) microbes!: MicrobeTermsDto | null;
  @sentences({ description: 'Choices made in coding the text' }) notes!: string[];
  @Instant({ ...none, description: 'Null for the library' }) recordedAt!: string | null;
  @Json({ ...none, description: 'Temperatures and depths as they were typed; null for the library' })
  entered!: RuleEntered | null;
}

export class ProcessRuleListDto {
  @ListOf(() => ProcessRuleDto, 1000) items!: ProcessRuleDto[];
}

export class RuleVersionQuery {
  @WholeInQuery(1, MOST_VERSION, { ...may, description: 'The latest, if left out' }) version?: number;
}
