import { type ResidueConvention, residueConventions } from '#libs/accounting';
import { ListOf, OneOf, Text, Uuid, Whole } from '../http/dto/fields.js';
import { DayOfEveryYear } from './site-fields.js';

const yearStart = (optional: boolean) =>
  DayOfEveryYear({ optional, description: 'First day of the reporting year' });

const residueTo = (optional: boolean) =>
  OneOf(residueConventions, {
    optional,
    description:
      'To whom residue is booked in its reports: `traced` back to where the material of the batch came from, or to ' +
      'the jurisdiction where the `site` stands (as 14 CCR 18815.5 has it)',
  });

export class NewJurisdictionDto {
  @Uuid({ optional: true }) id?: string;
  @Text(120) name!: string;
  @yearStart(false) reportingYearStart!: string;
  @residueTo(true) residueTo?: ResidueConvention;
}

export class JurisdictionChangeDto {
  @Text(120, { optional: true }) name?: string;
  @yearStart(true) reportingYearStart?: string;
  @residueTo(true) residueTo?: ResidueConvention;
}

export class JurisdictionDto {
  @Uuid() id!: string;
  @Text(120) name!: string;
  @yearStart(false) reportingYearStart!: string;
  @residueTo(false) residueTo!: ResidueConvention;
  @Whole(1, 1e9) version!: number;
}

export class JurisdictionPageDto {
  @ListOf(() => JurisdictionDto, 200) items!: JurisdictionDto[];
  @Text(400, { nullable: true }) next!: string | null;
}
