import { haulDifferences, type HaulDifference, haulDifferenceState } from '#libs/accounting';
import { kgOf, sumG } from '#libs/quantities';
import type { HaulDifferenceDto, HaulDto, HaulState, ReceiptDto } from './hauls.dto.js';
import type { HaulRow, ReceiptRow } from './hauls.records.js';

const kgOrNull = (massG: number | null) => (massG === null ? null : kgOf(massG));
const instant = (text: string) => new Date(text).toISOString();

function stateOf({ voidedAt, elsewhere, receipt }: HaulRow): HaulState {
  if (voidedAt) return 'voided';
  if (elsewhere !== null) return 'elsewhere';
  return receipt ? 'received' : 'on-the-road';
}

function differenceView(difference: HaulDifference | null): HaulDifferenceDto | null {
  if (!difference) return null;
  const { massG, percent } = difference;
  return {
    differenceKg: kgOf(massG),
    differencePercent: percent === null ? null : Math.round(percent * 100) / 100,
  };
}

function receiptView({ inG, occurredAt, recordedAt, ...row }: ReceiptRow): ReceiptDto {
  return { ...row, occurredAt: instant(occurredAt), inKg: kgOrNull(inG), recordedAt: instant(recordedAt) };
}

function remarkOf({ elsewhere, receipt, estimatedLots }: HaulRow): string | null {
  if (elsewhere !== null) return `Composted by somebody else: ${elsewhere}`;
  if (!receipt || receipt.inG !== null || estimatedLots === 0) return null;
  return 'It was not weighed at the yard: what was estimated at the hub stands';
}

export function haulView(row: HaulRow): HaulDto {
  const { id, siteId, toSiteId, elsewhere, containers, note, entered, recordedBy, voidReason } = row;
  const differences = haulDifferences({ ...row, inG: row.receipt?.inG ?? null });
  const estimated = row.lots.filter(({ basis }) => basis === 'volume');
  return {
    ...{ id, siteId, toSiteId, elsewhere, containers, note, entered, recordedBy, voidReason },
    state: stateOf(row),
    occurredAt: row.occurredAt.toISOString(),
    outKg: kgOrNull(row.outG),
    lotCount: row.lots.reduce((count, { lots }) => count + lots, 0),
    lotsKg: kgOf(sumG(row.lots.map(({ massG }) => massG))),
    estimatedKg: kgOf(sumG(estimated.map(({ massG }) => massG))),
    lots: row.lots.map(({ massG, ...lots }) => ({ ...lots, massKg: kgOf(massG) })),
    receipt: row.receipt && receiptView(row.receipt),
    roadDifference: differenceView(differences.road),
    lotsDifference: differenceView(differences.lots),
    difference: haulDifferenceState(differences, row.explained),
    explanations: row.explanations.map((one) => ({ ...one, recordedAt: instant(one.recordedAt) })),
    remark: remarkOf(row),
    recordedAt: row.recordedAt.toISOString(),
    voided: row.voidedAt !== null,
  };
}
