import { Injectable } from '@nestjs/common';
import { Temporal } from 'temporal-polyfill';
import {
  type HeadroomWarning,
  type MassUse,
  massUse,
  massWarnings,
  materialWarnings,
  permitWarnings,
  type ReportingYear,
  reportingYear,
} from '#libs/accounting';
import { localDay } from '../http/dto/time.js';
import { notFound } from '../http/problems/catalogue.js';
import { PermitUseRecords, type TakenIn } from './permit-use.records.js';
import type { PermitFacts } from './site-facts.js';
import { SiteFactsService } from './site-facts.service.js';

/** What of its permit a site has used up by taking material in. */
export interface PermitUse {
  today: string;
  permit: PermitFacts | null;
  year: ReportingYear & MassUse;
  week: ReportingYear & MassUse;
  recent: { days: number; massG: number };
  /** Of the year; empty where the permit names none, or there is no permit. */
  notNamed: TakenIn['materials'];
  warnings: HeadroomWarning[];
}

@Injectable()
export class PermitUseService {
  constructor(
    private readonly records: PermitUseRecords,
    private readonly sites: SiteFactsService,
  ) {}

  /** As of a moment; refuses (404) when there is no such site. */
  async of(siteId: string, nowMs: number): Promise<PermitUse> {
    const site = await this.sites.site(siteId);
    const permit = await this.sites.permitAt(site.id, nowMs);
    const today = localDay(nowMs, site.timeZone);
    const year = reportingYear(permit?.massYearStart ?? '01-01', today);
    const week = weekOf(today);
    const asked = { siteId: site.id, today, yearFrom: year.from, weekFrom: week.from };
    const taken = await this.records.takenIn(asked);
    if (!taken) throw notFound('site');
    const recent = { days: taken.recentDays, massG: Math.max(taken.recentG, 0) };
    const use = (span: ReportingYear, usedG: number, limitG: number | null) => ({
      ...span,
      ...massUse(Math.max(usedG, 0), limitG, daysAfter(today, span.to), recent),
    });
    const ofYear = use(year, taken.yearG, permit?.yearlyMassMaxG ?? null);
    const ofWeek = use(week, taken.weekG, permit?.weeklyMassMaxG ?? null);
    const named = permit?.materials ?? [];
    const notNamed =
      named.length === 0 ? [] : taken.materials.filter(({ material }) => !named.includes(material));
    const followed = permit?.validTo ? await this.records.followed(site.id, permit.validTo) : false;
    const warnings = [
      ...permitWarnings(permit, today, followed),
      ...massWarnings('yearly-mass', ofYear),
      ...massWarnings('weekly-mass', ofWeek),
      ...materialWarnings(notNamed),
    ];
    return { today, permit, year: ofYear, week: ofWeek, recent, notNamed, warnings };
  }
}

/** Monday to Monday, as ISO 8601 has weeks. */
function weekOf(today: string): ReportingYear {
  const day = Temporal.PlainDate.from(today);
  const monday = day.subtract({ days: day.dayOfWeek - 1 });
  return { from: monday.toString(), to: monday.add({ days: 7 }).toString() };
}

/** Days after today and before `to`. */
function daysAfter(today: string, to: string): number {
  return Temporal.PlainDate.from(today).until(to, { largestUnit: 'day' }).days - 1;
}
