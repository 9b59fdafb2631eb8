import { type GateState, gateStates } from '#libs/process';
import { Flag, Instant, ListOf, Nested, OneOf, Text, Uuid } from '../http/dto/fields.js';

export class GateDto {
  @Text(60, { example: 'process-rule' }) key!: string;
  @Text(60) title!: string;
  @OneOf(gateStates) state!: GateState;
  @Text(2000, { description: 'The figures and local dates it rests on' }) text!: string;
  @Text(1000, { nullable: true, description: 'Why it was overridden when the release was signed' })
  overrideReason!: string | null;
}

export class StandingHoldDto {
  @Uuid() id!: string;
  @Instant() since!: string;
  @Text(2000) reason!: string;
}

export class GatesDto {
  @ListOf(() => GateDto, 100) gates!: GateDto[];
  @Flag({ description: 'Every gate is met or not required, and the batch is curing' }) releasable!: boolean;
  @Instant({ nullable: true, description: 'When it was released: the gates are as they stood then' })
  signedAt!: string | null;
  @Nested(() => StandingHoldDto, {
    nullable: true,
    description:
      'While it stands nothing of the batch is released, handed out or put into another, whatever its gates say',
  })
  hold!: StandingHoldDto | null;
}
