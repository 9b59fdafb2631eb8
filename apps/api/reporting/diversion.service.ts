import { Injectable } from '@nestjs/common';
import { divertedG, printShortTons, type ReportingYear, reportingYear } from '#libs/accounting';
import { kgOf } from '#libs/quantities';
import type { Actor } from '../http/access/actor.js';
import { requireDay, requirePeriod } from '../http/dto/period.js';
import { invalid } from '../http/problems/catalogue.js';
import { JurisdictionsService } from '../sites/jurisdictions.service.js';
import type { DiversionDto, DiversionQuery, DivertedDto } from './diversion.dto.js';
import { DiversionRecords, type Grouped, type IntakeSums } from './diversion.records.js';
import { type AttributedResidue, residueOf } from './residue-shares.js';

@Injectable()
export class DiversionService {
  constructor(
    private readonly records: DiversionRecords,
    private readonly jurisdictions: JurisdictionsService,
  ) {}

  /** What came of a jurisdiction's material in a period, as it stands now; a manager's is of their own sites. */
  async live(actor: Actor, query: DiversionQuery): Promise<DiversionDto> {
    const { from, to } = await this.periodOf(query);
    const period = {
      jurisdictionId: query.jurisdictionId.toLowerCase(),
      from,
      to,
      siteIds: actor.sitesFor('manager'),
    };
    const rows = await this.records.read(period);
    if (rows.jurisdiction === null) throw invalid('/jurisdictionId', 'is no jurisdiction of the programme');
    const sums = new Sums(rows.intake, residueOf(rows.residue, period));
    const total = sums.whole();
    return {
      jurisdictionId: period.jurisdictionId,
      jurisdiction: rows.jurisdiction,
      ...{ from, to, everySite: period.siteIds === null },
      ...view(total),
      acceptedShortTons: printShortTons(total.acceptedG),
      estimatedShare: total.acceptedG === 0 ? null : total.estimatedG / total.acceptedG,
      refusedLoads: rows.refused.loads,
      refusedKg: kgOf(rows.refused.massG),
      refusedUnweighed: rows.refused.unweighed,
      byMaterial: rows.materialNames.flatMap(({ code, name }) =>
        sums.of('material', code).map((masses) => ({ material: code, name, ...view(masses) })),
      ),
      bySite: rows.siteNames.flatMap(({ id, code, name }) =>
        sums.of('siteId', id).map((masses) => ({ siteId: id, code, name, ...view(masses) })),
      ),
      byMonth: sums
        .months()
        .flatMap((month) => sums.of('month', month).map((masses) => ({ month, ...view(masses) }))),
    };
  }

  /** The days that were asked for, or the reporting year around a day. */
  private async periodOf({ jurisdictionId, from, to, yearOf }: DiversionQuery): Promise<ReportingYear> {
    if (yearOf !== undefined && from === undefined && to === undefined) {
      requireDay(yearOf, '/yearOf');
      const { reportingYearStart } = await this.jurisdictions.get(jurisdictionId);
      return reportingYear(reportingYearStart, yearOf);
    }
    if (yearOf !== undefined || from === undefined || to === undefined) {
      throw invalid('/from', 'give `from` and `to`, or `yearOf` alone');
    }
    requirePeriod(from, to);
    return { from, to };
  }
}

interface Masses {
  lots: number;
  acceptedG: number;
  estimatedG: number;
  pulledG: number;
  residueG: number;
}

/** Intake as the database summed it, and the residue that falls to it. */
class Sums {
  constructor(
    private readonly intake: readonly IntakeSums[],
    private readonly residue: readonly AttributedResidue[],
  ) {}

  whole(): Masses {
    const intake = this.intake.find(
      ({ siteId, material, month }) => siteId === null && material === null && month === null,
    );
    return masses(intake, this.residue);
  }

  /** None where there is neither intake nor residue. */
  of(key: keyof Grouped, value: string): Masses[] {
    const intake = this.intake.find((row) => row[key] === value);
    const residue = this.residue.filter((row) => row[key] === value);
    return intake || residue.length > 0 ? [masses(intake, residue)] : [];
  }

  months(): string[] {
    const months = [...this.intake, ...this.residue].flatMap(({ month }) => month ?? []);
    return [...new Set(months)].sort();
  }
}

function masses(intake: IntakeSums | undefined, residue: readonly AttributedResidue[]): Masses {
  const { lots, acceptedG, estimatedG, pulledG } = intake ?? {
    lots: 0,
    acceptedG: 0,
    estimatedG: 0,
    pulledG: 0,
  };
  const residueG = residue.reduce((sum, row) => sum + row.residueG, 0);
  return { lots, acceptedG, estimatedG, pulledG, residueG };
}

function view({
  lots,
  acceptedG,
  estimatedG,
  pulledG,
  residueG,
}: Masses): Pick<DivertedDto, keyof DivertedDto> {
  return {
    lots,
    acceptedKg: kgOf(acceptedG),
    estimatedKg: kgOf(estimatedG),
    pulledKg: kgOf(pulledG),
    residueKg: kgOf(residueG),
    divertedKg: kgOf(divertedG({ acceptedG, landfilledG: residueG })),
  };
}
