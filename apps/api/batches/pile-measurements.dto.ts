import { type PileShape, pileShapes } from '#libs/quantities';
import { NotedEntryDto } from '../http/dto/entries.dto.js';
import {
  type FieldOptions,
  Instant,
  Json,
  ListOf,
  Nested,
  Num,
  OneOf,
  Text,
  Uuid,
} from '../http/dto/fields.js';
import { LengthDto, Mass, MassDto, Volume, VolumeDto } from '../http/dto/quantities.js';

const Size = (options: FieldOptions = {}) => Nested(() => LengthDto, options);

/** A bucket of known volume, filled from the pile as it lies there. */
export class BucketTestDto {
  @Mass({ description: 'The bucket, filled' }) full!: MassDto;
  @Mass({ description: 'The bucket alone' }) empty!: MassDto;
  @Volume({ description: 'To the line that it was filled to' }) volume!: VolumeDto;
}

/** A pile as a tape found it. Which sizes are needed is said by its shape. */
export class PileDto {
  @OneOf(pileShapes, { example: 'rounded-windrow' }) shape!: PileShape;
  @Size({ optional: true, description: 'Of all but a cone' }) length?: LengthDto;
  @Size({ optional: true, description: 'At the ground; of a cone its diameter' }) width?: LengthDto;
  @Size({ optional: true, description: 'Of a cone, instead of its width: the way around it' })
  circumference?: LengthDto;
  @Size({ optional: true, description: 'Of a flat-topped windrow' }) topWidth?: LengthDto;
  @Size() height!: LengthDto;
  @Nested(() => BucketTestDto, { optional: true, description: 'With it, the pile has a mass' })
  density?: BucketTestDto;
}

export class NewPileMeasurementDto extends PileDto {
  @Uuid({ optional: true }) id?: string;
  @Instant({ optional: true, description: 'When it happened; now, if left out' }) occurredAt?: string;
  @Text(2000, { optional: true }) note?: string;
}

export type PileEntered = Omit<PileDto, 'shape'>;

const unknown = { nullable: true };

export const pileWarnings = ['more-than-the-bay', 'more-than-went-in', 'tall', 'steep'] as const;
export type PileWarning = (typeof pileWarnings)[number];

export class PileWarningDto {
  @OneOf(pileWarnings) code!: PileWarning;
  @Text(400) text!: string;
  @Text(100, { optional: true, description: 'JSON Pointer into the entry' }) pointer?: string;
}

export class PileMeasurementDto extends NotedEntryDto {
  @OneOf(pileShapes) shape!: PileShape;
  @Num(0, 1e6, { ...unknown, description: 'Null of a cone' }) lengthM!: number | null;
  @Num(0, 1e6, { description: 'At the ground; of a cone its diameter' }) widthM!: number;
  @Num(0, 1e6, { ...unknown, description: 'Of a flat-topped windrow' }) topWidthM!: number | null;
  @Num(0, 1e6) heightM!: number;
  @Num(0, 1e6) volumeL!: number;
  @Num(0, 2000, { ...unknown, description: 'Where a bucket was weighed' }) densityKgM3!: number | null;
  @Num(0, 2e6, { ...unknown, description: 'Volume times that density' }) massKg!: number | null;
  @ListOf(() => PileWarningDto, 20, {
    description: 'As the records stand now; none of them a refusal, and none of them stored',
  })
  warnings!: PileWarningDto[];
  @Json({ description: 'Sizes and bucket as they were typed' }) entered!: PileEntered;
}

export class PileMeasurementPageDto {
  @ListOf(() => PileMeasurementDto, 200) items!: PileMeasurementDto[];
  @Text(400, { nullable: true }) next!: string | null;
}
