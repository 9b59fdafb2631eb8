import { kgOf, litresOf } from '#libs/quantities';
import type { DropOffDto, KeptRejectDto, LiesDto } from './drop-offs.dto.js';
import type { LotRow, RevisionRow, Whereabouts } from './drop-offs.records.js';
import type { NewLot, Reject } from './lot.js';

const kgOrNull = (massG: number | null) => (massG === null ? null : kgOf(massG));

function rejectView({ massG, ...reject }: Reject): KeptRejectDto {
  return { ...reject, massKg: kgOf(massG) };
}

export function revisionView(
  row: Omit<RevisionRow, 'id' | 'siteId' | 'shiftId' | 'importId' | 'bodySha256'>,
) {
  return {
    revision: row.revision,
    occurredAt: row.occurredAt.toISOString(),
    material: row.material,
    jurisdictionId: row.jurisdictionId,
    depositor: row.depositor,
    basis: row.basis,
    grossKg: kgOrNull(row.grossG),
    tareKg: kgOrNull(row.tareG),
    netKg: kgOf(row.netG),
    rejectedKg: kgOf(row.rejectedG),
    acceptedKg: kgOf(row.acceptedG),
    volumeL: row.volumeMl === null ? null : litresOf(row.volumeMl),
    densityKgM3: row.densityKgM3,
    densitySource: row.densitySource,
    containerId: row.containerId,
    haulReceiptId: row.haulReceiptId,
    instrumentId: row.instrumentId,
    note: row.note,
    rejects: row.rejects.map(rejectView),
    warnings: row.warnings,
    entered: row.entered,
    voided: row.voided,
    reason: row.reason,
    recordedAt: row.recordedAt.toISOString(),
    recordedBy: row.recordedBy,
  };
}

const AT_THE_HUB: Whereabouts = { haulId: null, toSiteId: null, elsewhere: null, receivedAt: null };

function liesOf(hubId: string, { haulId, toSiteId, elsewhere, receivedAt }: Whereabouts): LiesDto {
  if (haulId === null) return { place: 'hub', siteId: hubId, haulId, elsewhere };
  if (elsewhere !== null) return { place: 'elsewhere', siteId: null, haulId, elsewhere };
  if (receivedAt === null) return { place: 'road', siteId: null, haulId, elsewhere };
  return { place: 'yard', siteId: toSiteId, haulId, elsewhere };
}

export function lotView(row: Omit<LotRow, 'bodySha256'>) {
  const unassignedG = row.voided ? 0 : row.acceptedG - row.assignedG;
  return Object.assign(revisionView(row), {
    id: row.id,
    siteId: row.siteId,
    shiftId: row.shiftId,
    importId: row.importId,
    unassignedKg: kgOf(unassignedG),
    lies: row.voided ? null : liesOf(row.siteId, row),
  });
}

/** What the recording of a lot answers, now and whenever it is sent again: nothing was in a batch then. */
export function firstView(row: Omit<RevisionRow, 'bodySha256'>): DropOffDto {
  return lotView({ ...row, ...AT_THE_HUB, assignedG: 0 });
}

export function newLotView(lot: NewLot, recordedAt: Date, recordedBy: string): DropOffDto {
  const first = {
    revision: 1,
    voided: false,
    reason: null,
    importId: null,
    ...AT_THE_HUB,
    assignedG: 0,
    recordedAt,
    recordedBy,
  };
  return lotView({ ...lot, ...first });
}
