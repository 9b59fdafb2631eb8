import { Injectable } from '@nestjs/common';
import {
  attributeResidue,
  type DiversionFigures,
  figuresOf,
  printShortTons,
  type ReportingYear,
  reportingYear,
} from '#libs/accounting';
import type { Actor } from '../http/access/actor.js';
import { requireDay, requirePeriod } from '../http/dto/period.js';
import { invalid } from '../http/problems/catalogue.js';
import type { DiversionDto, DiversionQuery } from './diversion.dto.js';
import { DiversionRecords, type Period, type Sql } from './diversion.records.js';

/** The days that are asked for, or a day of the reporting year that is. */
type PeriodAsked = Pick<DiversionQuery, 'from' | 'to' | 'yearOf'>;

@Injectable()
export class DiversionService {
  constructor(private readonly records: DiversionRecords) {}

  /** What came of a jurisdiction's material in a period, as it stands now; a manager's is of their own sites. */
  async live(actor: Actor, query: DiversionQuery): Promise<DiversionDto> {
    const siteIds = actor.sitesFor('manager');
    const jurisdictionId = query.jurisdictionId.toLowerCase();
    return this.records.atOneMoment(async (sql) => {
      const town = await this.records.jurisdiction(sql, jurisdictionId);
      if (!town) throw invalid('/jurisdictionId', 'is no jurisdiction of the programme');
      const residueTo = query.residueTo ?? town.residueTo;
      const days = daysOf(query, town.reportingYearStart);
      const figures = await this.figures(sql, { ...days, jurisdictionId, siteIds, residueTo });
      const { acceptedKg, divertedKg, estimatedKg } = figures.total;
      return {
        ...{ jurisdictionId, jurisdiction: town.name, everySite: siteIds === null },
        acceptedShortTons: shortTonsOf(acceptedKg),
        divertedShortTons: shortTonsOf(divertedKg),
        estimatedShare: acceptedKg === 0 ? null : estimatedKg / acceptedKg,
        ...figures,
      };
    });
  }

  /**
   * The figures of a period on a connection of the caller's, who sees to it that the statements are of one moment
   * (`readSnapshot`, or a transaction that is REPEATABLE READ). `siteIds` null is every site.
   */
  async figures(sql: Sql, period: Period): Promise<DiversionFigures> {
    const movements = await this.records.movements(sql, period);
    const { residues, inputs, links, ...stock } = await this.records.batches(sql, period);
    const { from, to, residueTo } = period;
    return figuresOf({
      ...{ from, to, residueTo, ...movements, ...stock },
      residue: attributeResidue(residues, inputs, links, period),
      ...(await this.records.names(sql)),
    });
  }
}

/** The days that were asked for, or the reporting year around a day. */
export function daysOf({ from, to, yearOf }: PeriodAsked, reportingYearStart: string): ReportingYear {
  if (yearOf !== undefined && from === undefined && to === undefined) {
    requireDay(yearOf, '/yearOf');
    return reportingYear(reportingYearStart, yearOf);
  }
  if (yearOf !== undefined || from === undefined || to === undefined) {
    throw invalid('/from', 'give `from` and `to`, or `yearOf` alone');
  }
  requirePeriod(from, to);
  return { from, to };
}

/** Kilograms to the gram are whole grams again. */
const shortTonsOf = (massKg: number): string => printShortTons(Math.round(massKg * 1000));
