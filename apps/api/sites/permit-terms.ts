import type { ProcessRule, RuleReading } from '#libs/process';
import { celsiusOf, kgOf, litresOf, massToG, temperatureToDeciC, volumeToMl } from '#libs/quantities';
import { invalid } from '../http/problems/catalogue.js';
import { mixTargetsInOrder } from './permit-mix-targets.js';
import type {
  NewPermitDto,
  PermitChangeDto,
  PermitDto,
  PermitEntered,
  PermitMixTargetDto,
} from './permits.dto.js';
import type { PermitColumns, PermitRow } from './permits.records.js';
import { dateText, dayOf, moreThanNothing } from './site-fields.js';

/** A quantity's column: left as it is, cleared, or measured from what was typed. */
function columnOf<T extends object, S>(
  typed: T | null | undefined,
  measure: (typed: T) => S,
): S | null | undefined {
  return typed && measure(typed);
}

/** The columns of the quantities, undefined where the body does not name them. */
function limitColumns({ cureReheat, storedVolumeMax, yearlyMassMax, weeklyMassMax }: PermitChangeDto) {
  return {
    cureReheatDeciC: columnOf(cureReheat, temperatureToDeciC),
    storedVolumeMaxMl: columnOf(storedVolumeMax, (volume) =>
      moreThanNothing(volumeToMl(volume), '/storedVolumeMax'),
    ),
    yearlyMassMaxG: columnOf(yearlyMassMax, (mass) => moreThanNothing(massToG(mass), '/yearlyMassMax')),
    weeklyMassMaxG: columnOf(weeklyMassMax, (mass) => moreThanNothing(massToG(mass), '/weeklyMassMax')),
  };
}

/** Columns of a permit as the body gives them; undefined where it leaves one out. */
export function columnsOf(dto: NewPermitDto | PermitChangeDto) {
  const { validFrom, validTo, requiredSamples, furtherRules } = dto;
  return {
    reference: dto.reference,
    validFrom: validFrom === undefined ? undefined : dayOf(validFrom, '/validFrom'),
    validTo: typeof validTo === 'string' ? dayOf(validTo, '/validTo') : validTo,
    processRule: dto.processRule,
    processReading: dto.processReading,
    furtherRules: furtherRules && [...new Set(furtherRules)],
    minimumProbes: dto.minimumProbes,
    longestGapHours: dto.longestGapHours,
    cureDays: dto.cureDays,
    massYearStart: dto.massYearStart,
    requiredSamples: requiredSamples && [...new Set(requiredSamples)],
    ...limitColumns(dto),
  } satisfies Record<string, PermitColumns[keyof PermitColumns] | undefined>;
}

interface Terms {
  validFrom: string;
  validTo?: string | null | undefined;
  processReading?: RuleReading | null | undefined;
  furtherRules: readonly string[];
}

/** Refuses terms that contradict each other; `rule` is the process rule they name. */
export function requireSound(
  { validFrom, validTo, processReading, furtherRules }: Terms,
  rule: ProcessRule | null,
): void {
  if (validTo && validTo < validFrom) throw invalid('/validTo', 'is before the first day');
  if (processReading && rule?.continuity !== 'unstated') {
    throw invalid('/processReading', 'goes with a rule whose text leaves it open, and only with one');
  }
  const again = furtherRules.findIndex((code) => code === rule?.code);
  if (again >= 0) throw invalid(`/furtherRules/${again}`, 'is the process rule already');
}

export function permitView(row: PermitRow): PermitDto {
  const { id, siteId, reference, processRule, minimumProbes, longestGapHours, cureDays, version } = row;
  return {
    ...{ id, siteId, reference, processRule, minimumProbes, longestGapHours, cureDays, version },
    validFrom: dateText(row.validFrom),
    validTo: row.validTo && dateText(row.validTo),
    processReading: row.processReading as RuleReading | null,
    cureReheatC: row.cureReheatDeciC === null ? null : celsiusOf(row.cureReheatDeciC),
    storedVolumeMaxL: row.storedVolumeMaxMl === null ? null : litresOf(Number(row.storedVolumeMaxMl)),
    yearlyMassMaxKg: row.yearlyMassMaxG === null ? null : kgOf(Number(row.yearlyMassMaxG)),
    massYearStart: row.massYearStart,
    weeklyMassMaxKg: row.weeklyMassMaxG === null ? null : kgOf(Number(row.weeklyMassMaxG)),
    materials: row.materials.map(({ materialCode }) => materialCode),
    requiredSamples: row.requiredSamples,
    furtherRules: row.furtherRules,
    mixTargets: mixTargetsInOrder(row.mixTargets as PermitMixTargetDto[]),
    entered: row.entered as PermitEntered,
  };
}
