import { type ReadinessState, readinessStates, type SourceStatus, sourceStatuses } from '#libs/process';
import { Instant, ListOf, Nested, OneOf, Text, TextList } from '../http/dto/fields.js';

export class SignSourceDto {
  @Text(200) title!: string;
  @OneOf(sourceStatuses, {
    description:
      'How far it was read; `common-practice` where nothing published says so, `local` what the permit asks for',
  })
  status!: SourceStatus;
}

export class ReadinessFindingDto {
  @Text(60, { example: 'no-reheating' }) key!: string;
  @Text(100) title!: string;
  @OneOf(readinessStates) state!: ReadinessState;
  @Text(10_000, { description: 'The figures and local times it rests on' }) text!: string;
  @Nested(() => SignSourceDto, { nullable: true, description: 'Null for a test, which the manager reads' })
  source!: SignSourceDto | null;
}

class ExpectedDto {
  @Instant({ nullable: true, description: 'Null where waiting does not bring it about' })
  earliest!: string | null;
  @Instant({ nullable: true, description: 'Null where the end is open' }) latest!: string | null;
}

export class GateOutlookDto extends ExpectedDto {
  @Text(60, { example: 'cure' }) gate!: string;
  @Text(100) title!: string;
  @TextList(/./s, 20) assumptions!: string[];
}

export class OutlookDto extends ExpectedDto {
  @ListOf(() => GateOutlookDto, 100, { description: 'The gates that are still to be met' })
  gates!: GateOutlookDto[];
  @TextList(/./s, 10) notes!: string[];
}

export class ReadinessDto {
  @Instant() asOf!: string;
  @ListOf(() => ReadinessFindingDto, 100, {
    description: 'Each sign by itself, never a score; empty before the cure',
  })
  findings!: ReadinessFindingDto[];
  @Nested(() => OutlookDto, {
    nullable: true,
    description:
      'If readings go on as now; no promise, and no time while the batch is built. Null once it is released or condemned',
  })
  outlook!: OutlookDto | null;
  @TextList(/./s, 10) notes!: string[];
}
