import { type InputKind, inputKinds, type OutputKind, outputKinds } from '#libs/accounting';
import { type PileShape, pileShapes } from '#libs/quantities';
import type { BalancePile } from '../batches/balance.service.js';
import { Instant, ListOf, Nested, Num, OneOf, Text, Uuid } from '../http/dto/fields.js';
import type { WholeBalance } from './whole-balance.service.js';

const unknown = { nullable: true, description: 'Null when unknown' };
const MOST = 1e12;

export class InputLineDto {
  @OneOf(inputKinds) kind!: InputKind;
  @Text(40, { description: 'Material code' }) label!: string;
  @Num(0, MOST) massKg!: number;
  @Num(0, MOST, { description: 'Part of it that was estimated from a volume' }) estimatedKg!: number;
}

export class OutputLineDto {
  @OneOf(outputKinds) kind!: OutputKind;
  @Text(200) label!: string;
  @Num(0, MOST) massKg!: number;
}

class BalancePileDto implements BalancePile {
  @Uuid() id!: string;
  @Instant() occurredAt!: string;
  @OneOf(pileShapes) shape!: PileShape;
  @Num(0, MOST) volumeL!: number;
  @Num(0, MOST, { nullable: true, description: 'Null where no bucket of it was weighed' })
  massKg!: number | null;
  @Instant({
    nullable: true,
    description:
      'From then on that is not the volume of what lies there: it was screened, or another batch merged into it',
  })
  outdatedAt!: string | null;
}

export class BalanceDto implements WholeBalance {
  @ListOf(() => InputLineDto, 1000) inputs!: InputLineDto[];
  @Num(0, MOST) inputKg!: number;
  @Num(0, MOST) weighedKg!: number;
  @Num(0, MOST, { description: 'By a volume or, of a batch merged unweighed, by its records' })
  estimatedKg!: number;
  @Num(0, MOST, { description: 'Weighed with a whole haul, and shared back to its lots by their volume' })
  sharedKg!: number;
  @ListOf(() => OutputLineDto, 1000) outputs!: OutputLineDto[];
  @Num(0, MOST) outputKg!: number;
  @Num(0, MOST, unknown) stillHereKg!: number | null;
  @Text(400, { description: 'How that is known, or why not' }) stillHere!: string;
  @Num(0, MOST, { ...unknown, description: 'Input less output less what is still here' })
  processLossKg!: number | null;
  @Num(0, 100, {
    nullable: true,
    description:
      'Compost out of all that went in, by wet mass. Null until some came out, or nothing is left there',
  })
  yieldPercent!: number | null;
  @Num(0, MOST, {
    nullable: true,
    description: 'As the mix was built, before it settled; null where a density is not known',
  })
  volumeInL!: number | null;
  @Num(0, MOST, { nullable: true, description: 'Null unless it is known of all the compost' })
  compostVolumeL!: number | null;
  @Num(0, MOST, { nullable: true, description: 'Compost out of what went in, by volume' })
  yieldByVolumePercent!: number | null;
  @Nested(() => BalancePileDto, { nullable: true, description: 'As it was measured last' })
  pile!: BalancePileDto | null;
  @Num(-MOST, MOST, {
    nullable: true,
    description:
      'By the pile as it was measured last; below nothing where it lies looser than was reckoned, null where ' +
      'that pile is outdated',
  })
  volumeLostL!: number | null;
  @Num(0, MOST, { nullable: true, description: 'More came out than went in by so much: an error to mend' })
  excessKg!: number | null;
  @Text(400, { nullable: true }) problem!: string | null;
}
