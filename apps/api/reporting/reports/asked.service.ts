import { Injectable } from '@nestjs/common';
import { reportingYear } from '#libs/accounting';
import { invalid } from '../../http/problems/catalogue.js';
import { JurisdictionsService } from '../../sites/jurisdictions.service.js';
import { daysOf } from '../diversion.service.js';
import type { DraftDto, NewReportDto, NewReportVersionDto } from './reports.dto.js';
import type { ReportRow, ReportSettings } from './reports.records.js';

type Period = Pick<ReportRow, 'from' | 'to' | 'wholeYear'>;

/** What was asked for, and what the jurisdiction says where nothing was. */
@Injectable()
export class AskedReports {
  constructor(private readonly jurisdictions: JurisdictionsService) {}

  async of(dto: DraftDto, id: string): Promise<{ report: ReportRow; settings: ReportSettings }> {
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

/** It is a reporting year by whichever words it was asked for. */
function periodOf(asked: Pick<NewReportDto, 'yearOf' | 'from' | 'to'>, yearStart: string): Period {
  const { from, to } = daysOf(asked, yearStart);
  const year = reportingYear(yearStart, from);
  return { from, to, wholeYear: year.from === from && year.to === to };
}
