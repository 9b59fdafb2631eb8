import { residueConventions, type ResidueConvention } from '#libs/accounting';
import { Flag, ListOf, LocalDate, MaterialCode, Nested, Num, OneOf, Pattern } from '../http/dto/fields.js';
import { Text, Uuid, Whole } from '../http/dto/fields.js';

export class DiversionQuery {
  @Uuid() jurisdictionId!: string;
  @LocalDate({ optional: true, description: 'First local day of the period' }) from?: string;
  @LocalDate({ optional: true, description: 'First local day after the period' }) to?: string;
  @LocalDate({
    optional: true,
    description: 'Or: the reporting year of the jurisdiction that this day lies in',
  })
  yearOf?: string;
  @OneOf(residueConventions, {
    optional: true,
    description: 'To whom residue is booked; as the jurisdiction has it where it is left out',
  })
  residueTo?: ResidueConvention;
}

const MOST_KG = 1e12;
const Kg = (description: string) => Num(0, MOST_KG, { description });
const Count = (description: string) => Whole(0, 1e12, { description });

export class DivertedDto {
  @Count('Drop-offs; each is of one material') lots!: number;
  @Kg('Taken in, pulled rejects taken off: weighed, shared and estimated together') acceptedKg!: number;
  @Kg('Of it, put on a scale lot by lot') weighedKg!: number;
  @Kg('Of it, weighed with a whole haul and shared back to its lots') sharedKg!: number;
  @Kg('Of it, estimated from a volume') estimatedKg!: number;
  @Kg('Pulled out of what was dropped off, before it was accepted') pulledKg!: number;
  @Kg('Taken out of batches in the period, wherever it went') residueKg!: number;
  @Kg('Of the residue, what went to landfill') landfilledKg!: number;
  @Num(-MOST_KG, MOST_KG, { description: 'Accepted less landfilled' }) divertedKg!: number;
  @Kg('Sent on in the period to be composted by somebody else') elsewhereKg!: number;
}

export class DivertedMaterialDto extends DivertedDto {
  @MaterialCode() material!: string;
  @Text(120) name!: string;
}

export class DivertedSiteDto extends DivertedDto {
  @Text(12) code!: string;
  @Text(120) name!: string;
}

export class DivertedMonthDto extends DivertedDto {
  @Pattern(/^\d{4}-\d{2}$/, 'a month, such as 2026-05', {
    description: 'Of the drop-off, or of the screening',
  })
  month!: string;
}

export class WentToDto {
  @Text(40) wentTo!: string;
  @Kg('') massKg!: number;
}

export class DepositorShareDto {
  @Text(40) depositor!: string;
  @Count('Drop-offs of one moment at one site are one visit') visits!: number;
  @Kg('') acceptedKg!: number;
}

export class RefusedLoadsDto {
  @Count('Loads turned away at sites in the jurisdiction, never accepted') loads!: number;
  @Count('Of those, not weighed') unweighed!: number;
  @Kg('Of those that were weighed') massKg!: number;
}

export class InStockDto {
  @LocalDate({ description: 'As of the beginning of this local day' }) on!: string;
  @Kg('Dropped off, and in no batch yet') waitingKg!: number;
  @Kg('') onTheRoadKg!: number;
  @Kg('In batches that were being built, as it went in') buildingKg!: number;
  @Kg('') activeKg!: number;
  @Kg('') curingKg!: number;
}

export class DiversionDto {
  @Uuid() jurisdictionId!: string;
  @Text(120) jurisdiction!: string;
  @LocalDate() from!: string;
  @LocalDate() to!: string;
  @OneOf(residueConventions, {
    description: '`traced`: to where its material came from; `site`: to where the yard stands',
  })
  residueTo!: ResidueConvention;
  @Flag({ description: 'False where the asker manages some sites only: then it is of those' })
  everySite!: boolean;
  @Pattern(/^\d+\.\d{2}$/, 'a number with two decimals', {
    description:
      'In short tons as printed in reports: from the exact total, rounded half to even once. Printed rows need not add up',
    example: '74.23',
  })
  acceptedShortTons!: string;
  @Pattern(/^-?\d+\.\d{2}$/, 'a number with two decimals', { example: '74.11' }) divertedShortTons!: string;
  @Num(0, 1, { nullable: true, description: 'Of the accepted mass; null when there is none' })
  estimatedShare!: number | null;
  @Nested(() => DivertedDto) total!: DivertedDto;
  @ListOf(() => DivertedMaterialDto, 1000) byMaterial!: readonly DivertedMaterialDto[];
  @ListOf(() => DivertedSiteDto, 100_000) bySite!: readonly DivertedSiteDto[];
  @ListOf(() => DivertedMonthDto, 10_000) byMonth!: readonly DivertedMonthDto[];
  @ListOf(() => WentToDto, 10) pulled!: readonly WentToDto[];
  @ListOf(() => WentToDto, 10) residue!: readonly WentToDto[];
  @Nested(() => RefusedLoadsDto) refused!: RefusedLoadsDto;
  @Count('Drop-offs of one depositor at one moment and site are one') visits!: number;
  @ListOf(() => DepositorShareDto, 20) byDepositor!: readonly DepositorShareDto[];
  @Nested(() => InStockDto) stockAtStart!: InStockDto;
  @Nested(() => InStockDto) stockAtEnd!: InStockDto;
}
