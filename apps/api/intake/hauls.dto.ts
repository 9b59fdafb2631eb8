import { type HaulDifferenceState, haulDifferenceStates, type MassBasis, massBases } from '#libs/accounting';
import type { Mass as EnteredMass } from '#libs/quantities';
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
  TextList,
  Uuid,
  Whole,
} from '../http/dto/fields.js';
import { PageQuery } from '../http/dto/paging.js';
import { Mass, MassDto } from '../http/dto/quantities.js';
import { OccurredAt } from './lot-fields.js';

const UUID = /^[0-9a-f]{8}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{12}$/i;
/** As many as a bulk of drop-offs. */
const MOST_LOTS = 500;
const MOST_CONTAINERS = 50;
const KG = 50_000;

export const haulStates = ['on-the-road', 'received', 'elsewhere', 'voided'] as const;
export type HaulState = (typeof haulStates)[number];

export class HaulContainerDto {
  @Uuid({ description: 'Of the hub or of the yard' }) containerId!: string;
  @Whole(0, 1000) count!: number;
}

export class HaulWeightDto {
  @Mass({ optional: true, description: 'The tare of the containers named is taken off' }) gross?: MassDto;
  @Mass({ optional: true }) net?: MassDto;
}

export class AllWaitingDto {
  @Instant({ optional: true, description: 'Drop-offs up to this time; up to the haul’s own, if left out' })
  upTo?: string;
}

/** One of the two. */
export class HaulLotsDto {
  @TextList(UUID, MOST_LOTS, { optional: true, description: 'Each goes whole' }) dropOffIds?: string[];
  @Nested(() => AllWaitingDto, { optional: true, description: 'All that waits at the hub' })
  allWaiting?: AllWaitingDto;
}

class HaulWeighedDto {
  @Uuid({ optional: true, description: 'UUIDv7 made by the client, so that it can be sent again' })
  id?: string;
  @OccurredAt(true) occurredAt?: string;
  @ListOf(() => HaulContainerDto, MOST_CONTAINERS, { optional: true }) containers?: HaulContainerDto[];
  @Nested(() => HaulWeightDto, { optional: true, description: 'One of gross and net, if it was weighed' })
  weight?: HaulWeightDto;
  @Text(1000, { optional: true }) note?: string;
}

export class NewHaulDto extends HaulWeighedDto {
  @Uuid({ description: 'The hub it leaves' }) siteId!: string;
  @Uuid({ optional: true, description: 'The yard it goes to; or elsewhere' }) toSiteId?: string;
  @Text(120, { optional: true, description: 'Who composts it instead', oneLine: true }) elsewhere?: string;
  @Nested(() => HaulLotsDto) lots!: HaulLotsDto;
}

export class NewReceiptDto extends HaulWeighedDto {
  @Text(1000, { optional: true, description: 'Why it weighs otherwise than it did at the hub' })
  explanation?: string;
}

export class NewExplanationDto {
  @Uuid({ optional: true }) id?: string;
  @Text(1000) explanation!: string;
}

export class HaulsQuery extends PageQuery {
  @Uuid({ optional: true, description: 'A hub they left or a yard they go to' }) siteId?: string;
  @OneOf(['true'], {
    optional: true,
    description: 'Only what is on the road, and what differs and was not explained',
  })
  open?: 'true';
}

export class KeptHaulContainerDto extends HaulContainerDto {
  @Text(24) code!: string;
}

export class HauledMaterialDto {
  @MaterialCode() material!: string;
  @OneOf(massBases) basis!: MassBasis;
  @Whole(0, 1e9) lots!: number;
  @Num(0, 1e9, { description: 'Accepted, as it stands now' }) massKg!: number;
}

export class HaulDifferenceDto {
  @Num(-KG, KG, { description: 'Negative: the later figure is the smaller' }) differenceKg!: number;
  @Num(-1e9, 1e9, { nullable: true, description: 'Of the earlier figure' }) differencePercent!: number | null;
}

export class ReceiptDto {
  @Uuid() id!: string;
  @Instant() occurredAt!: string;
  @Num(0, KG, { nullable: true, description: 'Net; null when it was not weighed at the yard' })
  inKg!: number | null;
  @ListOf(() => KeptHaulContainerDto, MOST_CONTAINERS) containers!: KeptHaulContainerDto[];
  @Text(1000, { nullable: true }) explanation!: string | null;
  @Text(1000, { nullable: true }) note!: string | null;
  @Json({ description: 'Exactly what was typed' }) entered!: HaulEntered;
  @Instant() recordedAt!: string;
  @Uuid() recordedBy!: string;
}

export class ExplanationDto {
  @Uuid() id!: string;
  @Text(1000) explanation!: string;
  @Instant() recordedAt!: string;
  @Uuid() recordedBy!: string;
}

export interface HaulEntered {
  containers?: { containerId: string; count: number }[];
  weight?: { gross?: EnteredMass; net?: EnteredMass };
}

export class HaulDto {
  @Uuid() id!: string;
  @OneOf(haulStates) state!: HaulState;
  @Uuid({ description: 'The hub it left' }) siteId!: string;
  @Uuid({ nullable: true }) toSiteId!: string | null;
  @Text(120, { nullable: true, description: 'Who composts it instead of a yard of the programme' })
  elsewhere!: string | null;
  @Instant() occurredAt!: string;
  @ListOf(() => KeptHaulContainerDto, MOST_CONTAINERS) containers!: KeptHaulContainerDto[];
  @Num(0, KG, { nullable: true, description: 'Net; null when it was not weighed at the hub' })
  outKg!: number | null;
  @Whole(0, 1e9) lotCount!: number;
  @Num(0, 1e9) lotsKg!: number;
  @Num(0, 1e9, { description: 'Of that, what is estimated and was on no scale' }) estimatedKg!: number;
  @ListOf(() => HauledMaterialDto, 1000) lots!: HauledMaterialDto[];
  @Nested(() => ReceiptDto, { nullable: true }) receipt!: ReceiptDto | null;
  @Nested(() => HaulDifferenceDto, { nullable: true, description: 'Weighed in, less weighed out' })
  roadDifference!: HaulDifferenceDto | null;
  @Nested(() => HaulDifferenceDto, {
    nullable: true,
    description: 'The last weighing less the lots; null where some of them are but estimated',
  })
  lotsDifference!: HaulDifferenceDto | null;
  @OneOf(haulDifferenceStates, { description: '`unknown`: there are not two figures to compare' })
  difference!: HaulDifferenceState;
  @ListOf(() => ExplanationDto, 1000, { description: 'Given later than the receipt' })
  explanations!: ExplanationDto[];
  @Text(400, { nullable: true }) remark!: string | null;
  @Text(1000, { nullable: true }) note!: string | null;
  @Json({ description: 'Exactly what was typed' }) entered!: HaulEntered;
  @Instant() recordedAt!: string;
  @Uuid() recordedBy!: string;
  @Flag() voided!: boolean;
  @Text(400, { nullable: true }) voidReason!: string | null;
}

export class HaulPageDto {
  @ListOf(() => HaulDto, 200) items!: HaulDto[];
  @Text(400, { nullable: true }) next!: string | null;
}
