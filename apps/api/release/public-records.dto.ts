import { type GateState, gateStates } from '#libs/process';
import { Flag, Instant, ListOf, Nested, Num, OneOf, Pattern, Text } from '../http/dto/fields.js';
import { TraceCautionDto } from './trace.dto.js';

class PublicMaterialDto {
  @Text(200) name!: string;
  @Num(0, 1e9) massKg!: number;
  @Num(0, 100, { nullable: true, description: 'Of all that went in, by wet mass' }) sharePercent!:
    number | null;
  @Flag({ description: 'Some or all of it by volume and density, or from records, and on no scale' })
  estimated!: boolean;
  @Num(0, 1e9, { description: 'So much of it' }) estimatedKg!: number;
}

class PublicVerdictDto {
  @Text(200) rule!: string;
  @Text(300) citation!: string;
  @Text(30, { description: 'How the recorded criteria came out; never that something is lawful' })
  status!: string;
  @Instant({ nullable: true }) metAt!: string | null;
}

class PublicCureDto {
  @Num(0, 1e5) daysDone!: number;
  @Num(0, 1e5) daysRequired!: number;
}

class PublicSampleDto {
  @Instant() occurredAt!: string;
  @Text(60) kind!: string;
  @Text(30, { description: 'As the yard reads it' }) outcome!: string;
}

class PublicGateDto {
  @Text(60) key!: string;
  @OneOf(gateStates) state!: GateState;
  @Flag({ description: 'Released in spite of it' }) overridden!: boolean;
}

/** What anybody may know of a released batch: no names of people, no notes, no recipients. */
export class PublicRecordDto {
  @Pattern(/^[0-9a-f]{64}$/, '64 lower-case hexadecimal digits') seal!: string;
  @Text(200) programme!: string;
  @Text(120) site!: string;
  @Text(64) timeZone!: string;
  @Text(40) batch!: string;
  @Flag({
    description: 'It is on hold now, whatever its record says: do not use it before the programme says so',
  })
  onHold!: boolean;
  @Instant() begunAt!: string;
  @Instant({ nullable: true }) releasedAt!: string | null;
  @ListOf(() => PublicMaterialDto, 1000, { description: 'What went in, the most first' })
  materials!: PublicMaterialDto[];
  @Nested(() => PublicVerdictDto, { nullable: true, description: 'Null where no rule was named' })
  verdict!: PublicVerdictDto | null;
  @Nested(() => PublicCureDto, { nullable: true, description: 'Null where none was asked for' })
  cure!: PublicCureDto | null;
  @ListOf(() => PublicSampleDto, 1000) samples!: PublicSampleDto[];
  @ListOf(() => PublicGateDto, 100, { description: 'Conditions of the release' }) gates!: PublicGateDto[];
  @ListOf(() => TraceCautionDto, 50) cautions!: TraceCautionDto[];
  @Text(1000) deference!: string;
}
