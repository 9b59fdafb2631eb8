import { type SampleOutcome, sampleOutcomes } from '#libs/process';
import { EntryDto, NewEntryDto } from '../http/dto/entries.dto.js';
import { Json, ListOf, Num, OneOf, Pattern, Text } from '../http/dto/fields.js';
import { Mass, MassDto } from '../http/dto/quantities.js';

const Kind = () =>
  Pattern(/^[a-z0-9][a-z0-9-]{0,39}$/, 'a kind of sample, such as "maturity"', {
    example: 'maturity',
    description: 'The word of the permit, where it asks for one',
  });
const VALUE_MOST = 1e9;
const OUTCOME = 'The reading of it against the permit; `information` opens and closes no gate';

export class NewSampleDto extends NewEntryDto {
  @Kind() kind!: string;
  @Num(-VALUE_MOST, VALUE_MOST, { optional: true }) value?: number;
  @Text(40, { optional: true, example: 'mg CO2-C/g OM/day' }) unit?: string;
  @Text(2000, { optional: true, description: 'What was found, in words' }) finding?: string;
  @OneOf(sampleOutcomes, { description: OUTCOME }) outcome!: SampleOutcome;
  @Text(120, { optional: true }) laboratory?: string;
  @Text(120, { optional: true, description: 'Number of the report' }) reference?: string;
  @Mass({ optional: true, description: 'Taken out of the batch for it' }) mass?: MassDto;
}

export interface SampleEntered {
  value?: number;
  mass?: MassDto;
}

export class SampleDto extends EntryDto {
  @Kind() kind!: string;
  @Num(-VALUE_MOST, VALUE_MOST, { nullable: true }) value!: number | null;
  @Text(40, { nullable: true }) unit!: string | null;
  @Text(2000, { nullable: true }) finding!: string | null;
  @OneOf(sampleOutcomes) outcome!: SampleOutcome;
  @Text(120, { nullable: true }) laboratory!: string | null;
  @Text(120, { nullable: true }) reference!: string | null;
  @Num(0, 1e6) massKg!: number;
  @Json({ description: 'Quantities as they were typed' }) entered!: SampleEntered;
}

export class SamplePageDto {
  @ListOf(() => SampleDto, 200) items!: SampleDto[];
  @Text(400, { nullable: true }) next!: string | null;
}
