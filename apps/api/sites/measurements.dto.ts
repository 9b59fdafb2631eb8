import { type MeasuredDoubtCode, measuredDoubtCodes } from '#libs/materials';
import type { Mass as EnteredMass, Volume as EnteredVolume } from '#libs/quantities';
import { Instant, Json, ListOf, MaterialCode, Nested, Num, OneOf, Text, Uuid } from '../http/dto/fields.js';
import { Mass, MassDto, Volume, VolumeDto } from '../http/dto/quantities.js';
import { DENSITY_MOST, RATIO_MOST } from './material-figures.dto.js';
import { SiteThingsQuery } from './site-fields.js';

const may = { optional: true };
const unknown = { nullable: true };
const OF_DRY = { optional: true, description: 'Of the dry matter' };

/** The percentage, or both weights of one sample. */
class SampleMoistureDto {
  @Num(0, 100, { optional: true, description: 'Of the wet mass' }) percent?: number;
  @Mass({ optional: true, description: 'Of the sample as it was taken, without its dish' }) wet?: MassDto;
  @Mass({ optional: true, description: 'Of the same sample, dried until it loses no more' }) dry?: MassDto;
}

/** The density, or a bucket weighed full and empty. */
class SampleDensityDto {
  @Num(0.1, DENSITY_MOST, may) kgM3?: number;
  @Mass({ optional: true, description: 'The bucket, filled as the material lies' }) full?: MassDto;
  @Mass({ optional: true, description: 'The bucket alone' }) empty?: MassDto;
  @Volume({ optional: true, description: 'Up to where it was filled, measured with water' })
  volume?: VolumeDto;
}

export class NewMeasurementDto {
  @Uuid({ optional: true, description: 'UUIDv7 made by the client, so that it can be sent again' })
  id?: string;
  @Uuid() siteId!: string;
  @MaterialCode() material!: string;
  @Instant({ optional: true, description: 'When the sample was taken; now, if left out' })
  occurredAt?: string;
  @Text(200, { oneLine: true, example: 'bucket test', description: 'The laboratory, or how the crew did it' })
  by!: string;
  @Text(200, { optional: true, oneLine: true, description: 'Of the laboratory’s report' }) reference?: string;
  @Num(0, 100, OF_DRY) nitrogenPercentDry?: number;
  @Num(0, 100, OF_DRY) carbonPercentDry?: number;
  @Num(0.01, RATIO_MOST, { optional: true, description: 'By mass, of the dry matter' })
  carbonToNitrogen?: number;
  @Num(0, 100, OF_DRY) ashPercentDry?: number;
  @Nested(() => SampleMoistureDto, may) moisture?: SampleMoistureDto;
  @Nested(() => SampleDensityDto, may) bulkDensity?: SampleDensityDto;
  @Text(2000, may) note?: string;
}

export class MeasurementsQuery extends SiteThingsQuery {
  @MaterialCode({ optional: true, description: 'Only of this material' }) material?: string;
}

/** What was typed, where it was not the figure itself. */
export interface EnteredMeasurement {
  moisture?: { percent?: number; wet?: EnteredMass; dry?: EnteredMass };
  bulkDensity?: { kgM3?: number; full?: EnteredMass; empty?: EnteredMass; volume?: EnteredVolume };
}

export class MeasurementWarningDto {
  @OneOf(measuredDoubtCodes) code!: MeasuredDoubtCode;
  @Text(600) text!: string;
  @Text(100, { description: 'JSON Pointer into the entry' }) pointer!: string;
}

export class MeasurementDto {
  @Uuid() id!: string;
  @Uuid() siteId!: string;
  @MaterialCode() material!: string;
  @Instant() occurredAt!: string;
  @Text(200) by!: string;
  @Text(200, unknown) reference!: string | null;
  @Num(0, 100, unknown) nitrogenPercentDry!: number | null;
  @Num(0, 100, unknown) carbonPercentDry!: number | null;
  @Num(0, RATIO_MOST, unknown) carbonToNitrogen!: number | null;
  @Num(0, 100, unknown) ashPercentDry!: number | null;
  @Num(0, 100, unknown) moisturePercent!: number | null;
  @Num(0, DENSITY_MOST, unknown) bulkDensityKgM3!: number | null;
  @Text(2000, unknown) note!: string | null;
  @Json({ description: 'Moisture and density as they were typed' }) entered!: EnteredMeasurement;
  @ListOf(() => MeasurementWarningDto, 20, {
    description: 'Held against the programme’s list as it stands now; none of them a refusal',
  })
  warnings!: MeasurementWarningDto[];
  @Instant() recordedAt!: string;
  @Uuid() recordedBy!: string;
  @Instant(unknown) voidedAt!: string | null;
  @Text(400, unknown) voidReason!: string | null;
}

export class MeasurementPageDto {
  @ListOf(() => MeasurementDto, 200) items!: MeasurementDto[];
  @Text(400, unknown) next!: string | null;
}
