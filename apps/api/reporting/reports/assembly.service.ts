import { Inject, Injectable } from '@nestjs/common';
import {
  type DiversionFigures,
  estimateGreenhouse,
  type GreenhouseEstimate,
  rateFormulas,
  rateOf,
  type RateOfPeriod,
} from '#libs/accounting';
import { daysInWords, DIVERSION_REPORT_SCHEMA, type DiversionReport } from '#libs/documents';
import { formatMass, massToG, type MassUnit } from '#libs/quantities';
import { invalid } from '../../http/problems/catalogue.js';
import { initialsOf } from '../../http/initials.js';
import { SETTINGS, type Settings } from '../../http/settings.js';
import type { SqlWrite } from '../../http/writes/work.js';
import { DiversionService } from '../diversion.service.js';
import { FacilitiesService } from '../facilities.service.js';
import { factorsOf, limitsOf, methodsOf } from './method-words.js';
import { type ReportRow, type ReportSettings, ReportsRecords } from './reports.records.js';

type Sql = SqlWrite['sql'];

/** Of which report, by whom and when. */
export interface Issuing extends Pick<DiversionReport, 'version' | 'amends' | 'rows'> {
  report: ReportRow;
  settings: ReportSettings;
  issuedAt: Date;
  /** Full name; the document has the initials. */
  issuedBy: string;
}

/** What is told of a period, without who tells it when and of which rows. */
export type Told = Pick<
  DiversionReport,
  'printed' | 'estimatedShare' | 'figures' | 'rate' | 'greenhouse' | 'facilities' | 'factors' | 'limits'
>;

/** Puts a report together from what every part of the programme knows, all on one connection and of one moment. */
@Injectable()
export class ReportAssembly {
  constructor(
    @Inject(SETTINGS) private readonly programme: Settings,
    private readonly records: ReportsRecords,
    private readonly diversion: DiversionService,
    private readonly facilities: FacilitiesService,
  ) {}

  async told(sql: Sql, report: ReportRow, settings: ReportSettings): Promise<Told> {
    const { jurisdictionId, from, to } = report;
    const period = { jurisdictionId, from, to };
    const { residueTo } = settings;
    const figures = await this.diversion.figures(sql, { ...period, siteIds: null, residueTo });
    const greenhouse = await this.greenhouse(sql, figures, settings);
    const { acceptedKg, divertedKg, estimatedKg } = figures.total;
    return {
      printed: {
        acceptedShortTons: printed(acceptedKg, 'short-ton', 2),
        divertedShortTons: printed(divertedKg, 'short-ton', 2),
        acceptedTonnes: printed(acceptedKg, 't', 3),
        divertedTonnes: printed(divertedKg, 't', 3),
      },
      // To the tenth of a per cent that is printed.
      estimatedShare: acceptedKg === 0 ? null : Math.round((estimatedKg / acceptedKg) * 1000) / 1000,
      figures,
      rate: rateIn(figures, settings),
      greenhouse,
      facilities: await this.facilities.of(sql, period),
      factors: factorsOf(await this.records.densities(sql, period), greenhouse),
      limits: limitsOf(figures, settings, await this.records.overlapping(sql, report)),
    };
  }

  document(told: Told, issuing: Issuing): DiversionReport {
    const { report, version, amends, rows, issuedAt, issuedBy, settings } = issuing;
    return {
      schema: DIVERSION_REPORT_SCHEMA,
      ...{ version, amends, asOf: issuedAt.toISOString(), issuedBy: initialsOf(issuedBy) },
      programme: { name: this.programme.programme },
      jurisdiction: townOf(report),
      period: {
        ...{ from: report.from, to: report.to, wholeYear: report.wholeYear },
        inWords: daysInWords(report.from, report.to),
      },
      ...told,
      methods: methodsOf(settings),
      rows,
    };
  }

  private async greenhouse(
    sql: Sql,
    { byMaterial }: DiversionFigures,
    { greenhouse }: ReportSettings,
  ): Promise<GreenhouseEstimate | null> {
    if (greenhouse === null) return null;
    const categories = await this.records.wasteCategories(sql);
    const inputs = byMaterial.map(({ material, name, acceptedKg }) => ({
      category: categories.get(material) ?? null,
      ...{ material: name, massKg: acceptedKg },
    }));
    return estimateGreenhouse(greenhouse.set, inputs);
  }
}

export const townOf = ({ jurisdiction, reportingYearStart }: ReportRow) => ({
  ...{ name: jurisdiction, reportingYearStart },
});

/** The municipality's percentage; null where it supplied nothing. Refuses (422) masses that give none by the formula. */
function rateIn({ total }: DiversionFigures, { rate }: ReportSettings): RateOfPeriod | null {
  const formula = rateFormulas.find(({ code }) => code === rate?.formula);
  if (!rate || !formula) return null;
  const { formula: _, source, ...masses } = rate;
  const supplied = Object.fromEntries(Object.entries(masses).map(([term, mass]) => [term, massToG(mass)]));
  const answer = rateOf(formula, Math.round(total.divertedKg * 1000), supplied, source);
  if (answer.ok) return answer.rate;
  const { field, detail } = answer.why;
  throw invalid(field === 'recycledHere' ? '/rate' : `/rate/${field}`, detail);
}

/** From the exact total, rounded half to even once; diverted may be below nothing. */
function printed(massKg: number, unit: MassUnit, decimals: number): string {
  return formatMass(Math.round(massKg * 1000), unit, decimals);
}
