import { Flag, Instant, Json, ListOf, Pattern, Text, Uuid, Whole } from '../http/dto/fields.js';
import { PageQuery } from '../http/dto/paging.js';

export class AuditQuery extends PageQuery {
  @Text(100, { optional: true, description: 'Id of the thing that was written' }) subjectId?: string;
  @Uuid({ optional: true }) siteId?: string;
  @Uuid({ optional: true }) personId?: string;
  @Pattern(/^[a-z-]+\.[a-z-]+$/, 'an action, such as "drop-off.recorded"', { optional: true })
  action?: string;
  @Instant({ optional: true }) from?: string;
  @Instant({ optional: true, description: 'Excluded' }) to?: string;
}

export class AuditEventDto {
  @Whole(1, Number.MAX_SAFE_INTEGER) seq!: number;
  @Instant() at!: string;
  @Uuid({ nullable: true }) personId!: string | null;
  @Text(120, { nullable: true }) personName!: string | null;
  @Text(80) action!: string;
  @Text(80) subjectKind!: string;
  @Text(100, { nullable: true }) subjectId!: string | null;
  @Uuid({ nullable: true }) siteId!: string | null;
  @Json() detail!: Record<string, unknown>;
}

export class AuditPageDto {
  @ListOf(() => AuditEventDto, 200) items!: AuditEventDto[];
  @Text(400, { nullable: true }) next!: string | null;
}

export class AuditSealDto {
  @Whole(1, 1e9) number!: number;
  @Whole(1, Number.MAX_SAFE_INTEGER) fromSeq!: number;
  @Whole(1, Number.MAX_SAFE_INTEGER) toSeq!: number;
  @Whole(1, 1e9) events!: number;
  @Text(64, { description: 'SHA-256 over the seal before it and the events, hex' }) seal!: string;
  @Instant() sealedAt!: string;
}

export class AuditSealPageDto {
  @ListOf(() => AuditSealDto, 200) items!: AuditSealDto[];
  @Text(400, { nullable: true }) next!: string | null;
}

export class AuditFaultDto {
  @Whole(1, 1e9, { nullable: true, description: 'Number of the seal that does not hold' })
  seal!: number | null;
  @Text(1000) text!: string;
}

export class AuditVerificationDto {
  @Flag() ok!: boolean;
  @Whole(0, 1e9) seals!: number;
  @Whole(0, Number.MAX_SAFE_INTEGER, { description: 'Events that the seals hold' }) sealedEvents!: number;
  @Whole(0, Number.MAX_SAFE_INTEGER, { description: 'Events since the last seal, which nothing proves yet' })
  unsealedEvents!: number;
  @Text(64, { nullable: true, description: 'Keep it elsewhere: whoever rewrites the whole chain changes it' })
  lastSeal!: string | null;
  @ListOf(() => AuditFaultDto, 10_000) faults!: AuditFaultDto[];
}
