import {
  Instant,
  ListOf,
  LocalDate,
  MaterialCode,
  Nested,
  Num,
  Pattern,
  Text,
  Uuid,
  Whole,
} from '../http/dto/fields.js';

const MOST = 1e12;
const unknown = { nullable: true, description: 'Null when unknown' };
/** Below nothing where something is recorded as gone before it is recorded as come. */
const Kg = (description?: string) => Num(-MOST, MOST, description === undefined ? {} : { description });

export class OnHandQuery {
  @LocalDate({ optional: true, description: 'As of the end of that local day; now, if left out' })
  on?: string;
}

export class WaitingMaterialDto {
  @MaterialCode() material!: string;
  @Text(120) name!: string;
  @Whole(0, 1e9) lots!: number;
  @Kg() massKg!: number;
  @Kg('Part of it that was estimated from a volume') estimatedKg!: number;
  @Kg('Part of it that was weighed with its whole haul') sharedKg!: number;
  @Num(-MOST, MOST, { ...unknown, description: 'As it was seen; of what was weighed by the density in use' })
  volumeL!: number | null;
}

export class OnTheRoadDto {
  @Uuid() haulId!: string;
  @Text(12, { description: 'Code of the hub that it left' }) fromSite!: string;
  @Instant() leftAt!: string;
  @Whole(0, 1e9) lots!: number;
  @Kg() massKg!: number;
}

const Stage = () => Pattern(/^[a-z]+$/, 'a stage', { example: 'curing' });

export class InProcessDto {
  @Uuid() batchId!: string;
  @Text(40) code!: string;
  @Stage() stage!: string;
  @Kg('Put in and not taken out: what it lost to the air by then is still in it') massKg!: number;
  @Num(0, MOST, {
    nullable: true,
    description: 'By its pile as it was measured last; null where that says nothing',
  })
  measuredKg!: number | null;
  @Num(0, MOST, {
    nullable: true,
    description: 'Of that pile; null where it was screened, or another batch merged into it, since',
  })
  volumeL!: number | null;
}

export class StageOnHandDto {
  @Stage() stage!: string;
  @Whole(0, 1e9) batches!: number;
  @Kg('Put in and not taken out') massKg!: number;
  @Whole(0, 1e9, { description: 'Those of the batches whose pile was measured as it lay there' })
  batchesMeasured!: number;
  @Num(0, MOST, { nullable: true, description: 'Of those; null of none' }) volumeL!: number | null;
}

export class HeapDto {
  @Uuid() batchId!: string;
  @Text(40) code!: string;
  @Stage() stage!: string;
  @Kg() massKg!: number;
  @Num(-MOST, MOST, {
    nullable: true,
    description: 'Of compost, by the volume that screening gave; else null',
  })
  volumeL!: number | null;
}

export class StockOnHandDto {
  @MaterialCode() material!: string;
  @Text(120) name!: string;
  @Instant() countedAt!: string;
  @Num(0, MOST, { ...unknown, description: 'The count less what was used since' }) massKg!: number | null;
  @Num(0, MOST, unknown) volumeL!: number | null;
}

export class OnHandTotalsDto {
  @Kg() waitingKg!: number;
  @Kg() onTheRoadKg!: number;
  @Kg() inProcessKg!: number;
  @Kg() oversKg!: number;
  @Kg() compostKg!: number;
}

export class OnHandDto {
  @Uuid() siteId!: string;
  @LocalDate({ nullable: true, description: 'Null: as it stands now' }) on!: string | null;
  @Instant() asOf!: string;
  @ListOf(() => WaitingMaterialDto, 10_000) waiting!: WaitingMaterialDto[];
  @ListOf(() => OnTheRoadDto, 10_000, { description: 'To this site, and not received by then' })
  onTheRoad!: OnTheRoadDto[];
  @ListOf(() => InProcessDto, 10_000) inProcess!: InProcessDto[];
  @ListOf(() => StageOnHandDto, 10) byStage!: StageOnHandDto[];
  @ListOf(() => HeapDto, 10_000, { description: 'Oversize that no batch had taken by then' })
  overs!: HeapDto[];
  @ListOf(() => HeapDto, 10_000, { description: 'Finished, and not handed out by then' }) compost!: HeapDto[];
  @ListOf(() => StockOnHandDto, 10_000, { description: 'Counted by then; no part of the totals' })
  stock!: StockOnHandDto[];
  @Nested(() => OnHandTotalsDto) totals!: OnHandTotalsDto;
}
