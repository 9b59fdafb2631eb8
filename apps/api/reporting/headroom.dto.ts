import { headroomWarnings, type HeadroomWarning } from '#libs/accounting';
import {
  ListOf,
  LocalDate,
  MaterialCode,
  Nested,
  Num,
  OneOf,
  Text,
  TextList,
  Uuid,
  Whole,
} from '../http/dto/fields.js';

const MOST = 1e12;
const limit = { nullable: true, description: 'Null where the permit sets none' };
const share = () => Num(-MOST, MOST, { ...limit, description: 'Of the limit, 0 to 1 and beyond' });

class HeadroomPermitDto {
  @Uuid() id!: string;
  @Text(120) reference!: string;
  @LocalDate() validFrom!: string;
  @LocalDate({ nullable: true }) validTo!: string | null;
}

class StoredPartDto {
  @OneOf(['batch', 'waiting', 'overs', 'compost', 'stock']) what!: StoredKind;
  @Text(120, { description: 'Code of the batch, or name of the material' }) name!: string;
  @Num(-MOST, MOST, { nullable: true, description: 'Null where nobody knows it' }) volumeL!: number | null;
  @Text(200, { description: 'How it is known, or why not' }) from!: string;
}
export type StoredKind = 'batch' | 'waiting' | 'overs' | 'compost' | 'stock';

class StoredDto {
  @Num(-MOST, MOST, { description: 'Of what is known' }) volumeL!: number;
  @TextList(/./s, 10_000, { description: 'What lies there besides, of unknown volume' }) unknown!: string[];
  @Num(0, MOST, limit) limitL!: number | null;
  @Num(-MOST, MOST, {
    nullable: true,
    description: 'Null without a limit, and where more lies there than is known, unless the limit is passed',
  })
  leftL!: number | null;
  @share() share!: number | null;
  @ListOf(() => StoredPartDto, 10_000) parts!: StoredPartDto[];
}

class TakenInDto {
  @LocalDate() from!: string;
  @LocalDate({ description: 'First day after it' }) to!: string;
  @Num(0, MOST) usedKg!: number;
  @Num(0, MOST, limit) limitKg!: number | null;
  @Num(-MOST, MOST, limit) leftKg!: number | null;
  @share() share!: number | null;
  @Num(0, MOST, { nullable: true, description: 'At the end of it, if as much comes as lately' })
  projectedKg!: number | null;
}

class RecentDto {
  @Whole(0, 366) days!: number;
  @Num(0, MOST) massKg!: number;
}

class NotNamedDto {
  @MaterialCode() material!: string;
  @Text(120) name!: string;
  @Num(0, MOST) massKg!: number;
}

class HeadroomWarningDto implements HeadroomWarning {
  @OneOf(headroomWarnings) about!: HeadroomWarning['about'];
  @Text(4_000) text!: string;
}

export class HeadroomDto {
  @Uuid() siteId!: string;
  @LocalDate({ description: 'Local day of the site' }) today!: string;
  @Nested(() => HeadroomPermitDto, { nullable: true, description: 'The one in force today' })
  permit!: HeadroomPermitDto | null;
  @Nested(() => StoredDto) stored!: StoredDto;
  @Nested(() => TakenInDto, { description: 'In the year of the permit' }) year!: TakenInDto;
  @Nested(() => TakenInDto, { description: 'Since Monday' }) week!: TakenInDto;
  @Nested(() => RecentDto, { description: 'What came lately, before today' }) recent!: RecentDto;
  @ListOf(() => NotNamedDto, 10_000, {
    description: 'Taken in within that year, and not among the materials that the permit names',
  })
  notNamed!: NotNamedDto[];
  @ListOf(() => HeadroomWarningDto, 10_000) warnings!: HeadroomWarning[];
  @Text(1_000, { description: 'How it was worked out' }) method!: string;
}
