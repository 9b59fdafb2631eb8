import {
  Flag,
  Instant,
  Json,
  ListOf,
  MaterialCode,
  Nested,
  Num,
  OneOf,
  Text,
  Uuid,
} from '../http/dto/fields.js';
import { PageQuery } from '../http/dto/paging.js';
import { Mass, MassDto, Volume, VolumeDto } from '../http/dto/quantities.js';

export const stockBases = ['scale', 'volume', 'container'] as const;
/** How an amount in stock is known: weighed, judged by eye, or counted in containers of known volume. */
export type StockBasis = (typeof stockBases)[number];

const KG = 1e12;
const unknown = { nullable: true };

/** One of `mass`, `volume`, and `containerId` with `count`. */
export class StockAmountDto {
  @Mass({ optional: true }) mass?: MassDto;
  @Volume({ optional: true, description: 'As it lies, by tape or by eye' }) volume?: VolumeDto;
  @Uuid({ optional: true, description: 'A container of the yard whose volume is known, such as a barrow' })
  containerId?: string;
  @Num(0, 10_000, {
    optional: true,
    example: 6.5,
    description: 'How many of it, heaped as when they were measured',
  })
  count?: number;
}

export class NewStockCountDto {
  @Uuid({ optional: true, description: 'UUIDv7 made by the client, so that it can be sent again' })
  id?: string;
  @Uuid() siteId!: string;
  @MaterialCode() material!: string;
  @Instant({ optional: true, description: 'When it was counted; now, if left out' }) occurredAt?: string;
  @Nested(() => StockAmountDto, { description: 'None left is a count too: 0' }) amount!: StockAmountDto;
  @Num(0, 1e6, {
    optional: true,
    description: 'In the programme’s own currency; stays until a count says otherwise',
  })
  costPerKg?: number;
  @Text(2000, { optional: true }) note?: string;
}

export class StockCountsQuery extends PageQuery {
  @Uuid({ optional: true }) siteId?: string;
  @MaterialCode({ optional: true }) material?: string;
}

export class StockCountDto {
  @Uuid() id!: string;
  @Uuid() siteId!: string;
  @MaterialCode() material!: string;
  @Instant() occurredAt!: string;
  @OneOf(stockBases) basis!: StockBasis;
  @Num(0, KG, { ...unknown, description: 'Null where only a volume was told and no density is known' })
  massKg!: number | null;
  @Num(0, KG, unknown) volumeL!: number | null;
  @Num(0, 1e6, unknown) densityKgM3!: number | null;
  @Text(2000, unknown) densitySource!: string | null;
  @Uuid(unknown) containerId!: string | null;
  @Text(24, unknown) container!: string | null;
  @Num(0, 10_000, unknown) count!: number | null;
  @Num(0, 1e6, unknown) costPerKg!: number | null;
  @Text(2000, unknown) note!: string | null;
  @Text(400, { ...unknown, description: 'What is not known of it' }) remark!: string | null;
  @Json({ description: 'The amount as it was typed' }) entered!: object;
  @Instant() recordedAt!: string;
  @Uuid() recordedBy!: string;
  @Instant(unknown) voidedAt!: string | null;
  @Text(400, unknown) voidReason!: string | null;
}

export class StockCountPageDto {
  @ListOf(() => StockCountDto, 200) items!: StockCountDto[];
  @Text(400, unknown) next!: string | null;
}

/** A container in which a material is measured out. */
export class MeasureDto {
  @Uuid() containerId!: string;
  @Text(24) container!: string;
  @Num(0, 200_000) volumeL!: number;
}

export class StockLineDto {
  @MaterialCode() material!: string;
  @Text(120) name!: string;
  @Uuid({ description: 'The latest count that stands' }) countId!: string;
  @Instant() countedAt!: string;
  @Num(0, 100_000, { description: 'Age of the count' }) countedDaysAgo!: number;
  @OneOf(stockBases) basis!: StockBasis;
  @Num(0, KG, { ...unknown, description: 'Null where only a volume is known and no density' })
  countedKg!: number | null;
  @Num(0, KG, unknown) countedL!: number | null;
  @Num(0, KG, { description: 'Put from stock into batches of the yard at or after the count' })
  usedKg!: number;
  @Num(0, KG, { ...unknown, description: 'Counted less used, never below 0' }) leftKg!: number | null;
  @Num(0, KG, unknown) leftL!: number | null;
  @Num(0, KG, { description: 'More was used than had been counted: count again' }) usedBeyondCountKg!: number;
  @Nested(() => MeasureDto, { ...unknown, description: 'The container that it was last counted in' })
  measure!: MeasureDto | null;
  @Num(0, 1e6, unknown) costPerKg!: number | null;
  @Flag({ description: 'Retired materials are taken no more' }) retired!: boolean;
  @Text(400, { description: 'The same in a sentence' }) text!: string;
}

export class StockDto {
  @Uuid() siteId!: string;
  @Instant() asOf!: string;
  @ListOf(() => StockLineDto, 10_000) items!: StockLineDto[];
}
