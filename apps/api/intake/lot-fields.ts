import { Instant, ListOf, MaterialCode, Nested, Num, OneOf, Text, Uuid } from '../http/dto/fields.js';
import { Mass, MassDto, Volume, VolumeDto } from '../http/dto/quantities.js';
import {
  type Contaminant,
  contaminants,
  type Depositor,
  depositors,
  type Destination,
  destinations,
  type WarningCode,
  warningCodes,
} from './words.js';

const REJECTS_MOST = 20;

export class WeightDto {
  @Mass({ optional: true }) gross?: MassDto;
  @Mass({ optional: true, description: 'Goes with gross, in the same unit' }) tare?: MassDto;
  @Uuid({ optional: true, description: 'Goes with gross: the container’s tare is taken off' })
  containerId?: string;
  @Mass({ optional: true, description: 'Alone: the tare was taken off by the scale' }) net?: MassDto;
}

export class CountedContainersDto {
  @Uuid({ description: 'A container of the hub whose volume is known' }) containerId!: string;
  @Num(0, 10_000, { example: 3, description: 'How many of it, full' }) count!: number;
}

export class RejectDto {
  @OneOf(contaminants) contaminant!: Contaminant;
  @Mass() mass!: MassDto;
  @OneOf(destinations) wentTo!: Destination;
}

export const Rejects = (optional: boolean) =>
  ListOf(() => RejectDto, REJECTS_MOST, { optional, description: 'Pulled out of the lot' });

/** What is said of a lot whenever it is said, the first time and in a correction. */
export class LotDto {
  @MaterialCode() material!: string;
  @OneOf(depositors) depositor!: Depositor;
  @Nested(() => WeightDto, {
    optional: true,
    description: 'One of {gross, containerId}, {gross, tare} and {net}; instead of it a volume or containers',
  })
  weight?: WeightDto;
  @Volume({ optional: true, description: 'Estimated: the mass follows from the material’s bulk density' })
  volume?: VolumeDto;
  @Nested(() => CountedContainersDto, {
    optional: true,
    description: 'Estimated as a volume is, at a hub that has no scale',
  })
  containers?: CountedContainersDto;
  @Uuid({ optional: true, description: 'The scale; that of the shift, if left out' }) instrumentId?: string;
  @Text(1000, { optional: true }) note?: string;
}

export class WarningDto {
  @OneOf(warningCodes) code!: WarningCode;
  @Text(400) text!: string;
  @Text(100, { optional: true, description: 'JSON Pointer into the entry' }) pointer?: string;
}

export const OccurredAt = (optional: boolean) =>
  Instant({ optional, description: 'When it happened; now, if left out' });
