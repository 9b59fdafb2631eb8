import type { Facility } from '#libs/documents';
import { ListOf, LocalDate, MaterialCode, Nested, Num, Text, TextList, Whole } from '../http/dto/fields.js';

type One<K extends keyof Facility> = Facility[K] extends (infer Line)[] ? Line : Facility[K];

export class FacilityYearQuery {
  @LocalDate({ optional: true, description: 'First local day of the period' }) from?: string;
  @LocalDate({ optional: true, description: 'First local day after the period' }) to?: string;
  @LocalDate({
    optional: true,
    description: 'Or: the reporting year, of the jurisdiction the site stands in, that this day lies in',
  })
  yearOf?: string;
}

const LINES = 10_000;
const Kg = () => Num(0, 1e12);
const Litres = () =>
  Num(0, 1e12, { nullable: true, description: 'Null where some of it was not measured by volume' });
const Count = () => Whole(0, 1e12);

class FacilityPermitDto implements One<'permits'> {
  @Text(120) reference!: string;
  @LocalDate() validFrom!: string;
  @LocalDate({ nullable: true }) validTo!: string | null;
}

class FacilityMaterialDto implements One<'bulking'> {
  @MaterialCode() material!: string;
  @Text(120) name!: string;
  @Kg() massKg!: number;
  @Num(0, 1e12, { description: 'Of it, estimated from a volume' }) estimatedKg!: number;
}

class FacilityOriginDto implements One<'receivedByOrigin'> {
  @Text(120) jurisdiction!: string;
  @Kg() massKg!: number;
}

class FacilityProcessedDto implements One<'processed'> {
  @Count() batches!: number;
  @Kg() massKg!: number;
}

class FacilityStageDto implements One<'onSite'> {
  @Text(40) stage!: One<'onSite'>['stage'];
  @Kg() massKg!: number;
  @Litres() volumeL!: number | null;
}

class FacilityProducedDto implements One<'produced'> {
  @Count() batches!: number;
  @Kg() massKg!: number;
  @Litres() volumeL!: number | null;
}

class FacilityDistributedDto implements One<'distributed'> {
  @Text(40) use!: string;
  @Text(40) recipient!: string;
  @Count() count!: number;
  @Kg() massKg!: number;
  @Litres() volumeL!: number | null;
}

class FacilityResidueDto implements One<'residue'> {
  @Text(40) wentTo!: string;
  @Kg() massKg!: number;
}

class FacilityReleaseDto implements One<'releases'> {
  @Text(40) batch!: string;
  @LocalDate() releasedOn!: string;
  @Text(60, { nullable: true }) rule!: string | null;
  @Text(40, { nullable: true, description: 'Of the verdict, as it was sealed' }) status!: string | null;
  @Num(0, 1e9, { nullable: true, description: 'Hours credited' }) hotHours!: number | null;
  @Whole(0, 1e9, { nullable: true, description: 'Turns credited' }) turns!: number | null;
  @Text(64, { description: 'Of the record of the batch' }) seal!: string;
}

class FacilitySamplesDto implements One<'samples'> {
  @Text(40) kind!: string;
  @Count() passed!: number;
  @Count() failed!: number;
  @Count() information!: number;
}

class FacilityComplaintDto implements One<'complaints'> {
  @LocalDate() on!: string;
  @Text(40) kind!: string;
  @Text(1_000) about!: string;
  @TextList(/./s, LINES) done!: string[];
}

export class FacilityYearDto implements Facility {
  @LocalDate() from!: string;
  @LocalDate({ description: 'First local day after the period' }) to!: string;
  @Text(12) code!: string;
  @Text(120) name!: string;
  @ListOf(() => FacilityPermitDto, LINES, { description: 'In force on a day of the period' })
  permits!: FacilityPermitDto[];
  @ListOf(() => FacilityMaterialDto, LINES, { description: 'Put into batches from drop-offs' })
  receivedByMaterial!: FacilityMaterialDto[];
  @ListOf(() => FacilityOriginDto, LINES) receivedByOrigin!: FacilityOriginDto[];
  @ListOf(() => FacilityMaterialDto, LINES, { description: 'From stock, through no drop-off; water apart' })
  bulking!: FacilityMaterialDto[];
  @Kg() waterKg!: number;
  @Nested(() => FacilityProcessedDto, {
    description:
      'Batches whose building ended, and what had gone into them but water and what other batches gave',
  })
  processed!: FacilityProcessedDto;
  @ListOf(() => FacilityStageDto, 20, {
    description: 'At the end of the period, as put in less what had come out: what air took is still in it',
  })
  onSite!: FacilityStageDto[];
  @Nested(() => FacilityProducedDto, { description: 'Compost screened' }) produced!: FacilityProducedDto;
  @ListOf(() => FacilityDistributedDto, LINES) distributed!: FacilityDistributedDto[];
  @ListOf(() => FacilityResidueDto, LINES, { description: 'Taken out of batches' })
  residue!: FacilityResidueDto[];
  @ListOf(() => FacilityReleaseDto, LINES) releases!: FacilityReleaseDto[];
  @ListOf(() => FacilitySamplesDto, LINES) samples!: FacilitySamplesDto[];
  @ListOf(() => FacilityComplaintDto, LINES) complaints!: FacilityComplaintDto[];
}
