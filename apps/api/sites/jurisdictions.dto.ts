import { type ResidueConvention, residueConventions } from '#libs/accounting';
import { ListOf, OneOf, Pattern, Text, Uuid, Whole } from '../http/dto/fields.js';

// Every day that each year has: 02-29 begins no year.
const DAY_OF_EVERY_YEAR =
  /^((0[13578]|1[02])-(0[1-9]|[12]\d|3[01])|(0[469]|11)-(0[1-9]|[12]\d|30)|02-(0[1-9]|1\d|2[0-8]))$/;
const yearStart = (optional: boolean) =>
  Pattern(DAY_OF_EVERY_YEAR, 'a month and day that every year has, such as "07-01"', {
    optional,
    example: '07-01',
    description: 'First day of the reporting year',
  });

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
