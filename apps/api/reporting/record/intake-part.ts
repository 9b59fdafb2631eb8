import type { Amendment, BatchRecord, PulledReject } from '#libs/documents';
import { kgOf, splitByLargestRemainder, sumG } from '#libs/quantities';
import type { ScreeningRow } from '../../release/release-facts.service.js';
import type { AmendmentRow, IntakeGroup, PulledRow } from './record.records.js';
import { iso, typed } from './wording.js';

type Intake = BatchRecord['intake'];

interface IntakeRows {
  groups: readonly IntakeGroup[];
  pulled: readonly PulledRow[];
  amendments: readonly AmendmentRow[];
  screenings: readonly ScreeningRow[];
}

/** What went in, what was pulled out of it before, and what was pulled out of the batch since. */
export function intakePart({ groups, pulled, amendments, screenings }: IntakeRows): Intake {
  const whole = groups.find(
    ({ material, siteCode, jurisdiction }) => !material && !siteCode && !jurisdiction,
  );
  const massG = whole?.massG ?? 0;
  const estimatedG = whole?.estimatedG ?? 0;
  const sharedG = whole?.sharedG ?? 0;
  const fromLots = pulled.map((reject) => ({ ...reject, massG: shareHere(reject) }));
  const residue = screenings.filter(({ residueG }) => residueG > 0);
  return {
    dropOffs: whole?.lots ?? 0,
    firstAt: whole ? iso(whole.firstAt) : null,
    lastAt: whole ? iso(whole.lastAt) : null,
    acceptedKg: kgOf(massG),
    weighedKg: kgOf(massG - sharedG - estimatedG),
    sharedKg: kgOf(sharedG),
    estimatedKg: kgOf(estimatedG),
    materials: groups.flatMap(({ material: code, materialName: name, ...group }) =>
      code && name
        ? {
            ...{ code, name, lots: group.lots },
            acceptedKg: kgOf(group.massG),
            weighedKg: kgOf(group.massG - group.sharedG - group.estimatedG),
            sharedKg: kgOf(group.sharedG),
            estimatedKg: kgOf(group.estimatedG),
            densitySources: group.densitySources,
          }
        : [],
    ),
    origins: groups.flatMap(({ siteCode, siteName, lots, massG: fromHereG }) =>
      siteCode && siteName ? { siteCode, siteName, lots, acceptedKg: kgOf(fromHereG) } : [],
    ),
    amendments: amendments.map(amendmentLine),
    rejects: [
      ...together(fromLots, 'drop-off'),
      ...together(
        residue.map(({ residueG, residueWentTo }) => ({
          ...{ contaminant: 'residue', massG: residueG },
          wentTo: residueWentTo ?? 'other',
        })),
        'batch',
      ),
    ],
    pulledKg: kgOf(sumG(fromLots.map((reject) => reject.massG))),
    residueKg: kgOf(sumG(residue.map(({ residueG }) => residueG))),
  };
}

export function jurisdictionsPart(groups: readonly IntakeGroup[]): BatchRecord['jurisdictions'] {
  return groups.flatMap(({ jurisdiction: name, lots, massG }) =>
    name ? { name, lots, acceptedKg: kgOf(massG) } : [],
  );
}

/** What was pulled from a lot that was split falls to its parts by their mass, and to what is in no batch yet. */
function shareHere({ massG, acceptedG, parts }: PulledRow): number {
  const masses = parts.map((part) => part.massG);
  const shares = splitByLargestRemainder(massG, [...masses, Math.max(acceptedG - sumG(masses), 0)]);
  return sumG(shares.filter((_, index) => parts[index]?.own === true));
}

function together(
  rejects: readonly { contaminant: string; wentTo: string; massG: number }[],
  found: PulledReject['found'],
): PulledReject[] {
  const groups = new Map<string, { contaminant: string; wentTo: string; massG: number }>();
  for (const { contaminant, wentTo, massG } of rejects) {
    const key = `${contaminant} ${wentTo}`;
    groups.set(key, { contaminant, wentTo, massG: (groups.get(key)?.massG ?? 0) + massG });
  }
  return [...groups.entries()]
    .sort(([a], [b]) => (a < b ? -1 : 1))
    .map(([, { contaminant, wentTo, massG }]) => ({ contaminant, found, massKg: kgOf(massG), wentTo }));
}

function amendmentLine(row: AmendmentRow): Amendment {
  const { material, name, source, fromBatch, basis, densitySource, entered } = row;
  return {
    occurredAt: iso(row.occurredAt),
    ...{ material, name, from: source, fromBatch },
    massKg: kgOf(row.massG),
    ...{ basis, densitySource },
    entered: typed(entered.mass, entered.volume),
  };
}
