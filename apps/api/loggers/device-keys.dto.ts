import { Instant, ListOf, Text, TextList, Uuid } from '../http/dto/fields.js';
import { PageQuery } from '../http/dto/paging.js';

const LABEL = /^[\p{L}\p{N}][\p{L}\p{N} ./_-]{0,23}$/u;
const ID = /^[0-9a-fA-F]{8}-[0-9a-fA-F]{4}-[0-9a-fA-F]{4}-[0-9a-fA-F]{4}-[0-9a-fA-F]{12}$/;
const MOST_TARGETS = 50;

export class NewDeviceKeyDto {
  @Uuid({ optional: true }) id?: string;
  @Uuid() siteId!: string;
  @Text(24, { example: 'L-2', description: 'As it is painted on the logger; once among the keys in use' })
  code!: string;
  @Text(100, { optional: true }) name?: string;
  @Uuid({ optional: true, description: 'A thermometer of the site, by which its verifications are known' })
  instrumentId?: string;
  @TextList(LABEL, MOST_TARGETS, {
    optional: true,
    description: 'Bays it lies in, by their codes; what it sends is of the batch that is there at the time',
    example: ['A1'],
  })
  bays?: string[];
  @TextList(ID, MOST_TARGETS, {
    optional: true,
    description: 'Batches it lies in, wherever they are carried',
  })
  batchIds?: string[];
}

export class DeviceBatchDto {
  @Uuid() id!: string;
  @Text(40) code!: string;
}

export class DeviceKeyDto {
  @Uuid() id!: string;
  @Uuid() siteId!: string;
  @Text(24) code!: string;
  @Text(100, { nullable: true }) name!: string | null;
  @Uuid({ nullable: true }) instrumentId!: string | null;
  @TextList(LABEL, MOST_TARGETS) bays!: string[];
  @ListOf(() => DeviceBatchDto, MOST_TARGETS) batches!: DeviceBatchDto[];
  @Instant() recordedAt!: string;
  @Uuid() recordedBy!: string;
  @Instant({ nullable: true }) revokedAt!: string | null;
  @Instant({ nullable: true, description: 'Of the latest reading that came in' })
  lastReadingAt!: string | null;
}

export class NewKeyDto extends DeviceKeyDto {
  @Text(100, { description: 'Shown this once: only its digest is kept' }) key!: string;
}

export class DeviceKeyPageDto {
  @ListOf(() => DeviceKeyDto, 200) items!: DeviceKeyDto[];
  @Text(400, { nullable: true }) next!: string | null;
}

export class DeviceKeyQuery extends PageQuery {
  @Uuid({ optional: true, description: 'Only of this site' }) siteId?: string;
}
