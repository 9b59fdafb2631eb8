import { type MixFigure, mixFigures } from '#libs/materials';
import { type RuleReading, ruleReadings } from '#libs/process';
import type { Mass, Temperature as EnteredTemperature, Volume } from '#libs/quantities';
import {
  Json,
  ListOf,
  LocalDate,
  Num,
  OneOf,
  RULE_CODE,
  Text,
  TextList,
  Uuid,
  Whole,
} from '../http/dto/fields.js';
import { MassDto, Temperature, TemperatureDto, VolumeDto } from '../http/dto/quantities.js';
import { DayOfEveryYear, MassLimit, VolumeLimit } from './site-fields.js';

const CODE = /^[a-z0-9][a-z0-9-]{0,39}$/;
const materialList = (optional: boolean) =>
  TextList(CODE, 200, { optional, description: 'Codes of what the permit names; empty where it names none' });
const sampleList = (optional: boolean) =>
  TextList(CODE, 40, {
    optional,
    example: ['maturity', 'pathogens'],
    description: 'Kinds of sample that a batch needs before its release',
  });
const ruleList = (optional: boolean) =>
  TextList(RULE_CODE, 20, {
    optional,
    description: 'Rules that a batch must meet besides, such as one on vector attraction',
  });

const may = { optional: true, nullable: true };

/** What a permit asks of a mix when it is built: no less than `min`, no more than `max`, either or both. */
export class NewPermitMixTargetDto {
  @OneOf(mixFigures) figure!: MixFigure;
  @Num(0, 2000, { optional: true }) min?: number;
  @Num(0, 2000, { optional: true }) max?: number;
}

export class PermitMixTargetDto {
  @OneOf(mixFigures) figure!: MixFigure;
  @Num(0, 2000, { nullable: true }) min!: number | null;
  @Num(0, 2000, { nullable: true }) max!: number | null;
}

/** What a permit may ask; a limit left out is one that the permit does not set. */
class PermitTermsDto {
  @LocalDate({ ...may, description: 'Last local day; open-ended without it' }) validTo?: string | null;
  @Text(60, { ...may, example: 'us-503-pfrp-windrow' }) processRule?: string | null;
  @OneOf(ruleReadings, { ...may, description: 'Where the text of the rule leaves it open' })
  processReading?: RuleReading | null;
  @ruleList(true) furtherRules?: string[];
  @Whole(1, 100, { ...may, description: 'Probes that a check needs' }) minimumProbes?: number | null;
  @Whole(1, 168, { ...may, description: 'Longest time between two checks that may be credited' })
  longestGapHours?: number | null;
  @Whole(0, 730, may) cureDays?: number | null;
  @Temperature({ ...may, description: 'A curing batch at or above this has reheated' })
  cureReheat?: TemperatureDto | null;
  @VolumeLimit(may) storedVolumeMax?: VolumeDto | null;
  @MassLimit({ ...may, description: 'Of what is taken in within a year of the permit' })
  yearlyMassMax?: MassDto | null;
  @DayOfEveryYear({
    optional: true,
    description: 'First day of that year; 1 January, if left out of a new one',
  })
  massYearStart?: string;
  @MassLimit({ ...may, description: 'Of what is taken in from Monday to Sunday' })
  weeklyMassMax?: MassDto | null;
  @materialList(true) materials?: string[];
  @sampleList(true) requiredSamples?: string[];
  @ListOf(() => NewPermitMixTargetDto, 10, {
    optional: true,
    description: 'Between what figures of the mix are to lie, each once; they come before published ranges',
  })
  mixTargets?: NewPermitMixTargetDto[];
}

export class NewPermitDto extends PermitTermsDto {
  @Uuid({ optional: true }) id?: string;
  @Uuid() siteId!: string;
  @Text(120, { description: 'Number of the document' }) reference!: string;
  @LocalDate({ description: 'First local day' }) validFrom!: string;
}

export class PermitChangeDto extends PermitTermsDto {
  @Text(120, { optional: true }) reference?: string;
  @LocalDate({ optional: true }) validFrom?: string;
}

export interface PermitEntered {
  cureReheat?: EnteredTemperature;
  storedVolumeMax?: Volume;
  yearlyMassMax?: Mass;
  weeklyMassMax?: Mass;
}

export class PermitDto {
  @Uuid() id!: string;
  @Uuid() siteId!: string;
  @Text(120) reference!: string;
  @LocalDate() validFrom!: string;
  @LocalDate({ nullable: true }) validTo!: string | null;
  @Text(60, { nullable: true }) processRule!: string | null;
  @OneOf(ruleReadings, { nullable: true }) processReading!: RuleReading | null;
  @ruleList(false) furtherRules!: string[];
  @Whole(1, 100, { nullable: true }) minimumProbes!: number | null;
  @Whole(1, 168, { nullable: true }) longestGapHours!: number | null;
  @Whole(0, 730, { nullable: true }) cureDays!: number | null;
  @Num(-100, 250, { nullable: true }) cureReheatC!: number | null;
  @Num(0, 1e12, { nullable: true }) storedVolumeMaxL!: number | null;
  @Num(0, 1e12, { nullable: true }) yearlyMassMaxKg!: number | null;
  @DayOfEveryYear() massYearStart!: string;
  @Num(0, 1e12, { nullable: true }) weeklyMassMaxKg!: number | null;
  @materialList(false) materials!: string[];
  @sampleList(false) requiredSamples!: string[];
  @ListOf(() => PermitMixTargetDto, 10) mixTargets!: PermitMixTargetDto[];
  @Json({ description: 'Quantities as they were typed' }) entered!: PermitEntered;
  @Whole(1, 1e9) version!: number;
}

export class PermitPageDto {
  @ListOf(() => PermitDto, 200) items!: PermitDto[];
  @Text(400, { nullable: true }) next!: string | null;
}
