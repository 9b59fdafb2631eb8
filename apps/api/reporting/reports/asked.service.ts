import { Injectable } from '@nestjs/common';
import { reportingYear } from '#libs/accounting';
import { requireDay, requirePeriod } from '../../http/dto/period.js';
import { invalid } from '../../http/problems/catalogue.js';
import { JurisdictionsService } from '../../sites/jurisdictions.service.js';
import type { NewReportDto, NewReportVersionDto } from './reports.dto.js';
import type { ReportRow, ReportSettings } from './reports.records.js';

type Period = Pick<ReportRow, 'from' | 'to' | 'wholeYear'>;

/** What was asked for, and what the jurisdiction says where nothing was. */
@Injectable()
export class AskedReports {
  constructor(private readonly jurisdictions: JurisdictionsService) {}

  async of(
    dto: Omit<NewReportDto, 'id' | 'password'>,
    id: string,
  ): Promise<{ report: ReportRow; settings: ReportSettings }> {
    const jurisdictionId = dto.jurisdictionId.toLowerCase();
    const town = await this.jurisdictions.known(jurisdictionId);
    if (!town) throw invalid('/jurisdictionId', 'is no jurisdiction of the programme');
    const { name: jurisdiction, reportingYearStart, residueTo } = town;
    return {
      report: { id, jurisdictionId, jurisdiction, reportingYearStart, ...periodOf(dto, reportingYearStart) },
      settings: settingsAfter({ residueTo, rate: null, greenhouse: null }, dto),
    };
  }
}

/** What is left out stays as it is; null takes it away. */
export function settingsAfter(
  before: ReportSettings,
  { residueTo, rate, greenhouse }: Pick<NewReportVersionDto, 'residueTo' | 'rate' | 'greenhouse'>,
): ReportSettings {
  return {
    residueTo: residueTo ?? before.residueTo,
    rate: rate === undefined ? before.rate : rate,
    greenhouse: greenhouse === undefined ? before.greenhouse : greenhouse,
  };
}

/** The days that were asked for, or the reporting year around a day. */
function periodOf(
  { yearOf, from, to }: Pick<NewReportDto, 'yearOf' | 'from' | 'to'>,
  yearStart: string,
): Period {
  if (yearOf !== undefined && from === undefined && to === undefined) {
    requireDay(yearOf, '/yearOf');
    return { ...reportingYear(yearStart, yearOf), wholeYear: true };
  }
  if (yearOf !== undefined || from === undefined || to === undefined) {
    throw invalid('/from', 'give `from` and `to`, or `yearOf` alone');
  }
  requirePeriod(from, to);
  const year = reportingYear(yearStart, from);
  return { from, to, wholeYear: year.from === from && year.to === to };
}
