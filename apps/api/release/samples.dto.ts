import {
  type FindingState,
  findingStates,
  parameterKeys,
  type Qualifier,
  qualifiers,
  type SampleOutcome,
  sampleOutcomes,
  type TextStatus,
  textStatuses,
} from '#libs/process';
import { EntryDto, NewEntryDto } from '../http/dto/entries.dto.js';
import { Json, ListOf, Num, OneOf, Pattern, Text } from '../http/dto/fields.js';
import { Mass, MassDto } from '../http/dto/quantities.js';

const Kind = () =>
  Pattern(/^[a-z0-9][a-z0-9-]{0,39}$/, 'a kind of sample, such as "maturity"', {
    example: 'maturity',
    description: 'The word of the permit, where it asks for one',
  });
const VALUE_MOST = 1e9;
const RESULTS_MOST = 100;
const BOUND = 'For a figure that is only a bound: "<2" is somewhere below 2';
const OWN_WORD = 'What the laboratory itself calls it; laboratories differ';
const OUTCOME = 'The reading of it against the permit; `information` opens and closes no gate';

/** One figure of a report. Which units a parameter comes in is said where another one is refused. */
export class NewSampleResultDto {
  @OneOf(parameterKeys, { example: 'co2-evolution' }) parameter!: string;
  @Num(0, VALUE_MOST, { example: 3.2 }) value!: number;
  @Text(40, { example: 'mg CO2-C/g OM/day', description: 'Part of the figure' }) unit!: string;
  @OneOf(qualifiers, { optional: true, description: BOUND }) qualifier?: Qualifier;
  @Text(120, { optional: true, description: OWN_WORD, example: 'stable' }) laboratoryWord?: string;
}

/** At least one of `results` and `finding`. */
export class NewSampleDto extends NewEntryDto {
  @Kind() kind!: string;
  @ListOf(() => NewSampleResultDto, RESULTS_MOST, { optional: true, min: 1 }) results?: NewSampleResultDto[];
  @Text(2000, { optional: true, description: 'What was found, in words' }) finding?: string;
  @OneOf(sampleOutcomes, { description: OUTCOME }) outcome!: SampleOutcome;
  @Text(120, { optional: true }) laboratory?: string;
  @Text(120, { optional: true, description: 'Number of the report' }) reference?: string;
  @Mass({ optional: true, description: 'Taken out of the batch for it' }) mass?: MassDto;
}

export interface SampleEntered {
  mass?: MassDto;
}

export class SampleResultDto {
  @OneOf(parameterKeys) parameter!: string;
  @Text(120) title!: string;
  @Num(0, VALUE_MOST) value!: number;
  @Text(40) unit!: string;
  @OneOf(qualifiers, { nullable: true }) qualifier!: Qualifier | null;
  @Text(120, { nullable: true, description: OWN_WORD }) laboratoryWord!: string | null;
}

/** What a published table says of it. It informs: the permit says what opens a gate. */
export class SampleFindingDto {
  @Text(60, { description: 'Of the figure; `ccqc-index` and `herbicide-bioassay` rest on several' })
  parameter!: string;
  @Num(0, VALUE_MOST, { nullable: true }) value!: number | null;
  @Text(40, { nullable: true }) unit!: string | null;
  @OneOf(qualifiers, { nullable: true }) qualifier!: Qualifier | null;
  @Text(120, { description: 'Code of the table' }) table!: string;
  @Text(120) scale!: string;
  @Text(120, { nullable: true }) class!: string | null;
  @Text(120, { nullable: true, example: 'at most 41 mg/kg dry' }) limit!: string | null;
  @OneOf(findingStates) state!: FindingState;
  @Text(400, { description: 'Document and section' }) source!: string;
  @OneOf(textStatuses, { description: 'How sure the table is' }) textStatus!: TextStatus;
  @Text(2000) text!: string;
}

export class SampleWarningDto {
  @Text(2000) text!: string;
}

export class SampleDto extends EntryDto {
  @Kind() kind!: string;
  @ListOf(() => SampleResultDto, RESULTS_MOST) results!: SampleResultDto[];
  @ListOf(() => SampleFindingDto, 2000) findings!: SampleFindingDto[];
  @Text(2000, { nullable: true }) finding!: string | null;
  @OneOf(sampleOutcomes) outcome!: SampleOutcome;
  @Text(120, { nullable: true }) laboratory!: string | null;
  @Text(120, { nullable: true }) reference!: string | null;
  @ListOf(() => SampleWarningDto, 20, { description: 'Where the figures contradict the outcome' })
  warnings!: SampleWarningDto[];
  @Num(0, 1e6) massKg!: number;
  @Json({ description: 'Quantities as they were typed' }) entered!: SampleEntered;
}

export class SamplePageDto {
  @ListOf(() => SampleDto, 200) items!: SampleDto[];
  @Text(400, { nullable: true }) next!: string | null;
}
