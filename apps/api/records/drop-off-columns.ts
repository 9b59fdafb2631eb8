import type { CsvColumn } from '#libs/documents';
import { kgOf, litresOf, type Mass, type Volume } from '#libs/quantities';
import type { ExportedLot } from './exports.records.js';

const kg = (massG: number | null): number | null => (massG === null ? null : kgOf(massG));

type Entered = 'gross' | 'tare' | 'net' | 'volume';

/** What was typed, number and unit apart, so that a spreadsheet can add it up. */
function typed(lot: ExportedLot, which: Entered): Mass | Volume | undefined {
  return which === 'volume' ? lot.entered.volume : lot.entered.weight?.[which];
}

function entered(which: Entered): CsvColumn<ExportedLot>[] {
  return [
    { title: `entered_${which}`, cell: (lot) => typed(lot, which)?.value ?? null },
    { title: `entered_${which}_unit`, cell: (lot) => typed(lot, which)?.unit ?? null },
  ];
}

/**
 * Columns of the drop-off export, in order. Metric figures are what is kept; `entered_…` is what was typed.
 * `basis` is "scale" (weighed), "volume" (estimated with `density_kg_m3`) or "haul" (weighed with its whole haul and shared
 * back by volume). `occurred_at` and `recorded_at` are UTC, `local_time` is on the site's own clock. `in_batches_kg` is the part of `accepted_kg` that is in batches by now.
 */
export const dropOffColumns: readonly CsvColumn<ExportedLot>[] = [
  { title: 'id', cell: ({ id }) => id },
  { title: 'site_code', cell: ({ siteCode }) => siteCode },
  { title: 'site', cell: ({ siteName }) => siteName },
  { title: 'local_time', cell: ({ localTime }) => localTime },
  { title: 'occurred_at', cell: ({ occurredAt }) => occurredAt.toISOString() },
  { title: 'material', cell: ({ material }) => material },
  { title: 'jurisdiction', cell: ({ jurisdiction }) => jurisdiction },
  { title: 'depositor', cell: ({ depositor }) => depositor },
  { title: 'basis', cell: ({ basis }) => basis },
  { title: 'gross_kg', cell: ({ grossG }) => kg(grossG) },
  { title: 'tare_kg', cell: ({ tareG }) => kg(tareG) },
  { title: 'net_kg', cell: ({ netG }) => kgOf(netG) },
  { title: 'rejected_kg', cell: ({ rejectedG }) => kgOf(rejectedG) },
  { title: 'accepted_kg', cell: ({ acceptedG }) => kgOf(acceptedG) },
  { title: 'in_batches_kg', cell: ({ assignedG }) => kgOf(assignedG) },
  { title: 'volume_l', cell: ({ volumeMl }) => (volumeMl === null ? null : litresOf(volumeMl)) },
  { title: 'density_kg_m3', cell: ({ densityKgM3 }) => densityKgM3 },
  { title: 'density_source', cell: ({ densitySource }) => densitySource },
  ...entered('gross'),
  ...entered('tare'),
  ...entered('net'),
  ...entered('volume'),
  { title: 'container', cell: ({ container }) => container },
  { title: 'scale', cell: ({ scale }) => scale },
  { title: 'warnings', cell: ({ warnings }) => warnings.map(({ code }) => code).join(' ') },
  { title: 'note', cell: ({ note }) => note },
  { title: 'revision', cell: ({ revision }) => revision },
  { title: 'import_id', cell: ({ importId }) => importId },
  { title: 'recorded_at', cell: ({ recordedAt }) => recordedAt.toISOString() },
  { title: 'recorded_by', cell: ({ recordedBy }) => recordedBy },
];
