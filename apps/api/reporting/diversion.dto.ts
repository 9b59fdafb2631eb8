import {
  Flag,
  ListOf,
  LocalDate,
  MaterialCode,
  Num,
  Pattern,
  Text,
  Uuid,
  Whole,
} from '../http/dto/fields.js';

export class DiversionQuery {
  @Uuid() jurisdictionId!: string;
  @LocalDate({ optional: true, description: 'First local day of the period' }) from?: string;
  @LocalDate({ optional: true, description: 'First local day after the period' }) to?: string;
  @LocalDate({
    optional: true,
    description: 'Or: the reporting year of the jurisdiction that this day lies in',
  })
  yearOf?: string;
}

const MOST_KG = 1e12;
const Kg = (description: string) => Num(0, MOST_KG, { description });

export class DivertedDto {
  @Whole(0, 1e12) lots!: number;
  @Kg('Taken in, pulled rejects taken off') acceptedKg!: number;
  @Kg('The part of it that was estimated from a volume') estimatedKg!: number;
  @Kg('Pulled out of what was dropped off, before it was accepted') pulledKg!: number;
  @Kg('Pulled out of batches later; its share by the mass each lot has in the batch') residueKg!: number;
  @Num(-MOST_KG, MOST_KG, { description: 'Accepted less residue' }) divertedKg!: number;
}

export class DivertedMaterialDto extends DivertedDto {
  @MaterialCode() material!: string;
  @Text(120) name!: string;
}

export class DivertedSiteDto extends DivertedDto {
  @Uuid() siteId!: string;
  @Text(12) code!: string;
  @Text(120) name!: string;
}

export class DivertedMonthDto extends DivertedDto {
  @Pattern(/^\d{4}-\d{2}$/, 'a month, such as 2026-05', {
    description: 'Of the drop-off, or of the screening',
  })
  month!: string;
}

export class DiversionDto extends DivertedDto {
  @Uuid() jurisdictionId!: string;
  @Text(120) jurisdiction!: string;
  @LocalDate() from!: string;
  @LocalDate() to!: string;
  @Flag({ description: 'False where the asker manages some sites only: then it is of those' })
  everySite!: boolean;
  @Pattern(/^\d+\.\d{2}$/, 'a number with two decimals', {
    description:
      'Accepted, in short tons as printed in reports: from the exact total, rounded half to even once',
    example: '74.23',
  })
  acceptedShortTons!: string;
  @Num(0, 1, { nullable: true, description: 'Of the accepted mass; null when there is none' })
  estimatedShare!: number | null;
  @Whole(0, 1e12, { description: 'Loads turned away at sites in the jurisdiction, never accepted' })
  refusedLoads!: number;
  @Kg('Of those that were weighed') refusedKg!: number;
  @Whole(0, 1e12) refusedUnweighed!: number;
  @ListOf(() => DivertedMaterialDto, 1000) byMaterial!: DivertedMaterialDto[];
  @ListOf(() => DivertedSiteDto, 100_000) bySite!: DivertedSiteDto[];
  @ListOf(() => DivertedMonthDto, 10_000) byMonth!: DivertedMonthDto[];
}
