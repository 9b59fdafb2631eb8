import { Instant, ListOf, OneOf, Text, Uuid } from '../http/dto/fields.js';
import { SiteThingsQuery } from './site-fields.js';

const ABOUT = 1_000;

export const complaintKinds = [
  'odour',
  'animals',
  'dust',
  'noise',
  'litter',
  'traffic',
  'water',
  'smoke',
  'other',
] as const;
export type ComplaintKind = (typeof complaintKinds)[number];

export class NewComplaintDto {
  @Uuid({ optional: true, description: 'UUIDv7 made by the client, so that it can be sent again' })
  id?: string;
  @Uuid() siteId!: string;
  @Instant({ optional: true, description: 'When it was noticed; now, if left out' }) occurredAt?: string;
  @OneOf(complaintKinds) kind!: ComplaintKind;
  @Text(ABOUT, { description: 'What was complained of. No name of who complained: it is told in reports' })
  about!: string;
}

export class NewComplaintActionDto {
  @Uuid({ optional: true, description: 'UUIDv7 made by the client, so that it can be sent again' })
  id?: string;
  @Instant({ optional: true, description: 'Now, if left out' }) occurredAt?: string;
  @Text(ABOUT, { example: 'Turned the batch and covered it with chips; no smell the day after' })
  done!: string;
}

export class ComplaintsQuery extends SiteThingsQuery {
  @Instant({ optional: true, description: 'Occurred at or after' }) from?: string;
  @Instant({ optional: true, description: 'Occurred before' }) to?: string;
}

export class ComplaintActionDto {
  @Uuid() id!: string;
  @Instant() occurredAt!: string;
  @Text(ABOUT) done!: string;
  @Instant() recordedAt!: string;
  @Uuid() recordedBy!: string;
}

export class ComplaintDto {
  @Uuid() id!: string;
  @Uuid() siteId!: string;
  @Instant() occurredAt!: string;
  @OneOf(complaintKinds) kind!: ComplaintKind;
  @Text(ABOUT) about!: string;
  @ListOf(() => ComplaintActionDto, 10_000, { description: 'What was done about it, in its order' })
  actions!: ComplaintActionDto[];
  @Instant() recordedAt!: string;
  @Uuid() recordedBy!: string;
  @Instant({ nullable: true }) voidedAt!: string | null;
  @Text(400, { nullable: true }) voidReason!: string | null;
}

export class ComplaintPageDto {
  @ListOf(() => ComplaintDto, 200) items!: ComplaintDto[];
  @Text(400, { nullable: true }) next!: string | null;
}
