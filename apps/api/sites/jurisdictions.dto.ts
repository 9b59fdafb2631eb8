import { ListOf, Pattern, Text, Uuid, Whole } from '../http/dto/fields.js';

// Every day that each year has: 02-29 begins no year.
const DAY_OF_EVERY_YEAR =
  /^((0[13578]|1[02])-(0[1-9]|[12]\d|3[01])|(0[469]|11)-(0[1-9]|[12]\d|30)|02-(0[1-9]|1\d|2[0-8]))$/;
const yearStart = (optional: boolean) =>
  Pattern(DAY_OF_EVERY_YEAR, 'a month and day that every year has, such as "07-01"', {
    optional,
    example: '07-01',
    description: 'First day of the reporting year',
  });

export class NewJurisdictionDto {
  @Uuid({ optional: true }) id?: string;
  @Text(120) name!: string;
  @yearStart(false) reportingYearStart!: string;
}

export class JurisdictionChangeDto {
  @Text(120, { optional: true }) name?: string;
  @yearStart(true) reportingYearStart?: string;
}

export class JurisdictionDto {
  @Uuid() id!: string;
  @Text(120) name!: string;
  @yearStart(false) reportingYearStart!: string;
  @Whole(1, 1e9) version!: number;
}

export class JurisdictionPageDto {
  @ListOf(() => JurisdictionDto, 200) items!: JurisdictionDto[];
  @Text(400, { nullable: true }) next!: string | null;
}
