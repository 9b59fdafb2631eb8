import { type Mass as EnteredMass, type Temperature, temperatureUnits } from '#libs/quantities';
import {
  Flag,
  Instant,
  Json,
  ListOf,
  LocalDate,
  Nested,
  Num,
  OneOf,
  Text,
  Uuid,
  Whole,
} from '../http/dto/fields.js';
import { Mass, MassDto } from '../http/dto/quantities.js';
import { Label } from './site-fields.js';

export const instrumentKinds = ['scale', 'thermometer'] as const;
export type InstrumentKind = (typeof instrumentKinds)[number];

const may = { optional: true, nullable: true };

export class ResolutionDto {
  @Num(0, 50, { example: 1 }) value!: number;
  @OneOf(temperatureUnits, { example: 'F' }) unit!: Temperature['unit'];
}

class InstrumentFiguresDto {
  @Mass({ ...may, description: 'Smallest step that a scale shows' }) division?: MassDto | null;
  @Nested(() => ResolutionDto, { ...may, description: 'Smallest step that a thermometer shows' })
  resolution?: ResolutionDto | null;
  @Whole(1, 3_650, { ...may, description: 'Days that a verification stays good, as the programme decides' })
  verifyEveryDays?: number | null;
}

export class NewInstrumentDto extends InstrumentFiguresDto {
  @Uuid({ optional: true }) id?: string;
  @Uuid() siteId!: string;
  @Label() code!: string;
  @OneOf(instrumentKinds) kind!: InstrumentKind;
}

export class InstrumentChangeDto extends InstrumentFiguresDto {
  @Label({ optional: true }) code?: string;
  @Flag({ optional: true }) retired?: boolean;
}

export class LastVerificationDto {
  @Instant() occurredAt!: string;
  @Flag() passed!: boolean;
}

export interface InstrumentEntered {
  division?: EnteredMass;
  resolution?: Temperature;
}

export class InstrumentDto {
  @Uuid() id!: string;
  @Uuid() siteId!: string;
  @Label() code!: string;
  @OneOf(instrumentKinds) kind!: InstrumentKind;
  @Num(0, 50_000_000, { nullable: true }) divisionG!: number | null;
  @Num(0, 50, { nullable: true }) resolutionC!: number | null;
  @Whole(1, 3_650, { nullable: true }) verifyEveryDays!: number | null;
  @Nested(() => LastVerificationDto, { nullable: true }) lastVerification!: LastVerificationDto | null;
  @LocalDate({ nullable: true, description: 'Last local day on which the last verification is good' })
  verificationDueOn!: string | null;
  @Flag({ description: 'Due, never done though asked for, or failed the last time' })
  verificationOverdue!: boolean;
  @Flag() retired!: boolean;
  @Json({ description: 'Quantities as they were typed' }) entered!: InstrumentEntered;
  @Whole(1, 1e9) version!: number;
}

export class InstrumentPageDto {
  @ListOf(() => InstrumentDto, 200) items!: InstrumentDto[];
  @Text(400, { nullable: true }) next!: string | null;
}
