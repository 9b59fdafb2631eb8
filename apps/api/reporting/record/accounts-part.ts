import type { Hold, Merge, PileMeasurement } from '#libs/documents';
import { kgOf, litresOf } from '#libs/quantities';
import { initialsOf } from '../../http/initials.js';
import type { RuledVerdict } from '../../monitoring/process.service.js';
import type { HoldRow, MergeRow, PileRow } from './accounts.records.js';
import type { Names } from './record.records.js';
import { iso, isoOf } from './wording.js';

export function mergesPart(rows: readonly MergeRow[], process: RuledVerdict | null): Merge[] {
  return rows.map(({ direction, batch, basis, note, occurredAt, massG }) => ({
    occurredAt: iso(occurredAt),
    ...{ direction, batch, massKg: kgOf(massG), basis },
    metAt: direction === 'in' ? metBy(occurredAt.getTime(), batch, process) : null,
    note,
  }));
}

/** When it had met the rule, if it had by the time that it came in. */
function metBy(mergedMs: number, batch: string, process: RuledVerdict | null): string | null {
  const metAtMs = process?.mergedFrom.find(({ code }) => code === batch)?.metAtMs ?? null;
  return metAtMs !== null && metAtMs <= mergedMs ? isoOf(metAtMs) : null;
}

const metres = (mm: number): number => mm / 1000;

export function pilesPart(rows: readonly PileRow[], { people }: Names): PileMeasurement[] {
  return rows.map(
    ({ shape, lengthMm, widthMm, topWidthMm, heightMm, volumeMl, densityKgM3, massG, note, ...row }) => ({
      occurredAt: iso(row.occurredAt),
      shape,
      lengthM: lengthMm === null ? null : metres(lengthMm),
      widthM: metres(widthMm),
      topWidthM: topWidthMm === null ? null : metres(topWidthMm),
      heightM: metres(heightMm),
      volumeL: litresOf(volumeMl),
      densityKgM3: densityKgM3 === null ? null : Math.round(densityKgM3 * 10) / 10,
      massKg: massG === null ? null : kgOf(massG),
      note,
      by: initialsOf(people.get(row.recordedBy)),
    }),
  );
}

export function holdsPart(rows: readonly HoldRow[]): Hold[] {
  return rows.map(({ occurredAt, reason, liftedAt, liftReason }) => ({
    ...{ occurredAt: iso(occurredAt), reason, liftReason },
    liftedAt: liftedAt && iso(liftedAt),
  }));
}
