import { applyDecorators } from '@nestjs/common';
import { registerDecorator } from 'class-validator';
import {
  type GreenhouseSetCode,
  greenhouseSetCodes,
  rateFormulaCodes,
  type ResidueConvention,
  residueConventions,
} from '#libs/accounting';
import { massToG } from '#libs/quantities';
import {
  type FieldOptions,
  Flag,
  Instant,
  ListOf,
  LocalDate,
  Nested,
  OneOf,
  Pattern,
  Text,
  Uuid,
  Whole,
  WholeInQuery,
} from '../../http/dto/fields.js';
import { PageQuery } from '../../http/dto/paging.js';
import { MassDto } from '../../http/dto/quantities.js';

/** More than any one jurisdiction disposes of in a year: a figure in pounds that was called tons. */
const MOST_G = 100e6 * 1e6;

/** What a whole municipality throws away is more than one entry of ours may weigh; still it has an end, and a unit of mass. */
function WholeMass(options: FieldOptions & { aboveNothing?: boolean } = {}): PropertyDecorator {
  const { aboveNothing = false, ...rest } = options;
  const told = `must be a mass of ${aboveNothing ? 'more than nothing and ' : ''}at most 100 million t; is the unit right?`;
  return applyDecorators(
    Nested(() => MassDto, rest),
    (target: object, propertyName: string | symbol) => {
      registerDecorator({
        name: 'wholeMass',
        target: target.constructor,
        propertyName: propertyName as string,
        options: { message: told },
        validator: {
          validate(mass: MassDto) {
            try {
              const massG = massToG(mass);
              return massG <= MOST_G && (massG > 0 || !aboveNothing);
            } catch {
              return true; // its parts are told of on their own
            }
          },
        },
      });
    },
  );
}

export class RateAskedDto {
  @OneOf(rateFormulaCodes, { description: 'Formulas differ: their numbers are not to be compared' })
  formula!: string;
  @WholeMass({
    aboveNothing: true,
    description: 'What the municipality disposed of in the period, as a mass',
  })
  disposed!: MassDto;
  @WholeMass({ optional: true, description: 'Of that, brought elsewhere' }) exported?: MassDto;
  @WholeMass({ optional: true, description: 'Of that, brought from elsewhere' }) imported?: MassDto;
  @WholeMass({ optional: true }) sourceReduced?: MassDto;
  @WholeMass({ optional: true, description: 'What the municipality recycles besides this programme' })
  otherRecycled?: MassDto;
  @Text(400, { oneLine: true, description: 'Who said so and where it can be read; it is printed' })
  source!: string;
}

const greenhouseSet = (optional: boolean) =>
  OneOf(greenhouseSetCodes, { optional, description: 'A published set of factors; sets are never mixed' });

export class GreenhouseAskedDto {
  @greenhouseSet(false) set!: GreenhouseSetCode;
}

const residueTo = () =>
  OneOf(residueConventions, {
    optional: true,
    description: 'Left out: as the jurisdiction has it, or as in the version before',
  });
const password = () => Text(200, { description: 'Of whoever issues it, once more: it is the signature' });

class OfPeriodDto {
  @Uuid() jurisdictionId!: string;
  @LocalDate({ optional: true, description: 'The reporting year that this day lies in' }) yearOf?: string;
  @LocalDate({ optional: true, description: 'Or: first local day of the period' }) from?: string;
  @LocalDate({ optional: true, description: 'First local day after it' }) to?: string;
  @residueTo() residueTo?: ResidueConvention;
}

export class NewReportDto extends OfPeriodDto {
  @Uuid({ optional: true }) id?: string;
  @Nested(() => RateAskedDto, { optional: true, description: 'Without it no percentage is printed' })
  rate?: RateAskedDto;
  @Nested(() => GreenhouseAskedDto, { optional: true, description: 'Without it nothing is estimated' })
  greenhouse?: GreenhouseAskedDto;
  @password() password!: string;
}

const kept = { optional: true, nullable: true, description: 'Left out: as before; null: none any more' };

export class DraftDto extends OfPeriodDto {
  @Nested(() => RateAskedDto, kept) rate?: RateAskedDto | null;
  @Nested(() => GreenhouseAskedDto, kept) greenhouse?: GreenhouseAskedDto | null;
}

export class NewReportVersionDto {
  @Uuid({ optional: true }) id?: string;
  @Text(1000, { min: 10, description: 'Why it is issued again; it stands in the report' }) reason!: string;
  @residueTo() residueTo?: ResidueConvention;
  @Nested(() => RateAskedDto, kept) rate?: RateAskedDto | null;
  @Nested(() => GreenhouseAskedDto, kept) greenhouse?: GreenhouseAskedDto | null;
  @password() password!: string;
}

export class DraftQuery extends OfPeriodDto {
  @greenhouseSet(true) greenhouse?: GreenhouseSetCode;
}

export class ReportsQuery extends PageQuery {
  @Uuid({ optional: true }) jurisdictionId?: string;
}

export class VersionQuery {
  @WholeInQuery(1, 1e6, { optional: true, description: 'Left out: the latest' }) version?: number;
}

export class ReportVersionDto {
  @Whole(1, 1e6) version!: number;
  @Pattern(/^[0-9a-f]{64}$/, '64 lower-case hexadecimal digits', {
    description: 'SHA-256 over the RFC 8785 canonical JSON of the report',
  })
  seal!: string;
  @Text(1000, { nullable: true, description: 'Why it was issued again; null on the first' })
  reason!: string | null;
  @Instant() issuedAt!: string;
  @Text(40, { description: 'Initials of whoever issued it' }) issuedBy!: string;
}

class PeriodWarningDto {
  @Text(40) code!: string;
  @Text(400) text!: string;
}

export class ReportDto {
  @Uuid() id!: string;
  @Uuid() jurisdictionId!: string;
  @Text(120) jurisdiction!: string;
  @LocalDate({ description: 'First local day of the period' }) from!: string;
  @LocalDate({ description: 'First local day after it' }) to!: string;
  @Text(80, { description: 'The same with the last day that is in it' }) inWords!: string;
  @Flag({ description: 'It is a reporting year of the jurisdiction' }) wholeYear!: boolean;
  @ListOf(() => ReportVersionDto, 100_000, { description: 'The first first; each stays as it was issued' })
  versions!: ReportVersionDto[];
  @ListOf(() => PeriodWarningDto, 10, { description: 'What to look at once more in its period' })
  warnings!: PeriodWarningDto[];
}

export class ReportPageDto {
  @ListOf(() => ReportDto, 200) items!: ReportDto[];
  @Text(400, { nullable: true }) next!: string | null;
}
