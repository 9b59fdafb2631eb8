import type { Balance, BatchRecord, Cure, Distribution, Sample, Screening } from '#libs/documents';
import { type CureVerdict, parameterOf } from '#libs/process';
import { celsiusOf, kgOf, litresOf } from '#libs/quantities';
import type { BatchBalance } from '../../batches/balance.service.js';
import { initialsOf } from '../../http/initials.js';
import type { JudgedSample } from '../../release/gates.service.js';
import type { DistributionRow, ScreeningRow } from '../../release/release-facts.service.js';
import type { PermitFacts } from '../../sites/site-facts.service.js';
import type { Names } from './record.records.js';
import { iso, isoOf } from './wording.js';

export function permitPart(permit: PermitFacts | null, names: Names): BatchRecord['permit'] {
  if (!permit) return null;
  const { reference, validFrom, validTo, processRule, processReading, furtherRules } = permit;
  const { minimumProbes, longestGapHours, cureDays, cureReheatDeciC } = permit;
  const { requiredSamples, materials, mixTargets, storedVolumeMaxMl, yearlyMassMaxG } = permit;
  return {
    ...{ reference, validFrom, validTo, processRule, processReading, furtherRules },
    ...{ minimumProbes, longestGapHours, cureDays },
    cureReheatC: cureReheatDeciC === null ? null : celsiusOf(cureReheatDeciC),
    ...{ requiredSamples, mixTargets },
    materials: materials.map((code) => names.materials.get(code) ?? code),
    storedVolumeMaxL: storedVolumeMaxMl === null ? null : litresOf(storedVolumeMaxMl),
    yearlyMassMaxKg: yearlyMassMaxG === null ? null : kgOf(yearlyMassMaxG),
  };
}

export function curePart(cure: CureVerdict | null): Cure | null {
  if (!cure) return null;
  const { status, daysDone, daysRequired } = cure;
  return {
    status,
    startedAt: isoOf(cure.startedAtMs),
    ...{ daysDone, daysRequired },
    doneAt: isoOf(cure.doneAtMs),
    evidence: cure.evidence.map(({ fromMs, toMs, kind, text }) => ({
      ...{ from: iso(new Date(fromMs)), to: iso(new Date(toMs)) },
      ...{ kind, text },
    })),
    notes: [...cure.notes],
  };
}

export function samplesPart(rows: readonly JudgedSample[], { people }: Names): Sample[] {
  return rows.map(({ kind, results, finding, outcome, laboratory, reference, ...row }) => ({
    occurredAt: iso(row.occurredAt),
    ...{ kind, finding, outcome, laboratory, reference },
    results: results.map(({ parameter, value, unit, qualifier, laboratoryWord }) => ({
      ...{ parameter, title: parameterOf(parameter)?.title ?? parameter },
      ...{ value, unit, qualifier, laboratoryWord },
    })),
    findings: row.findings.map(({ table: _, ...finding }) => finding),
    warnings: row.warnings,
    massKg: kgOf(row.massG),
    by: initialsOf(people.get(row.recordedBy)),
  }));
}

export function screeningsPart(rows: readonly ScreeningRow[], { people }: Names): Screening[] {
  return rows.map((row) => ({
    occurredAt: iso(row.occurredAt),
    compostKg: kgOf(row.compostG),
    compostVolumeL: row.compostVolumeMl === null ? null : litresOf(row.compostVolumeMl),
    oversKg: kgOf(row.oversG),
    residueKg: kgOf(row.residueG),
    residueWentTo: row.residueWentTo,
    note: row.note,
    by: initialsOf(people.get(row.recordedBy)),
  }));
}

export function distributionsPart(rows: readonly DistributionRow[]): Distribution[] {
  return rows.map(({ recipient, use, basis, note, ...row }) => ({
    occurredAt: iso(row.occurredAt),
    ...{ recipient, use },
    massKg: kgOf(row.massG),
    basis,
    volumeL: row.volumeMl === null ? null : litresOf(row.volumeMl),
    note,
  }));
}

/** The label of an input is the name of its material. */
export function balancePart(balance: BatchBalance, { materials }: Names): Balance {
  const { inputKg, weighedKg, sharedKg, estimatedKg, outputs, outputKg } = balance;
  const { stillHereKg, processLossKg, excessKg, yieldPercent } = balance;
  return {
    inputs: balance.inputs.map(({ label, ...input }) => ({
      ...input,
      label: input.kind === 'merged-in' ? 'Merged batches' : (materials.get(label) ?? label),
    })),
    ...{ inputKg, weighedKg, sharedKg, estimatedKg, outputKg },
    outputs: outputs.map((output) =>
      output.kind === 'merged-on' ? { ...output, label: 'merged on' } : output,
    ),
    ...{ stillHereKg, processLossKg, excessKg, yieldPercent },
  };
}
