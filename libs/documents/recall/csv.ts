import { type CsvColumn, csvOf } from '../csv.js';
import { localMinute } from './words.js';
import type { RecallBatch, RecallDistribution, RecallList, RecallWaiting } from './recall.js';

type Line =
  RecallWaiting | ({ kind: 'batch' } & RecallBatch) | ({ kind: 'distribution' } & RecallDistribution);

const batch = (line: Line): RecallBatch | null => (line.kind === 'batch' ? line : null);
const distribution = (line: Line): RecallDistribution | null => (line.kind === 'distribution' ? line : null);

/** Headings of `recall.csv`, in order. What a line has not is empty. */
export const RECALL_COLUMNS: readonly CsvColumn<Line>[] = [
  { title: 'kind', cell: ({ kind }) => kind },
  { title: 'batch', cell: (line) => batch(line)?.code ?? distribution(line)?.batchCode ?? null },
  { title: 'site', cell: ({ site }) => site },
  { title: 'stage', cell: (line) => batch(line)?.stage ?? null },
  { title: 'on_hold', cell: (line) => batch(line)?.onHold ?? null },
  { title: 'came_by', cell: (line) => batch(line)?.ways.join('; ') ?? null },
  { title: 'code', cell: (line) => distribution(line)?.code ?? null },
  { title: 'occurred_at', cell: (line) => distribution(line)?.occurredAt ?? null },
  { title: 'local_time', cell: (line) => localTime(distribution(line)) },
  { title: 'recipient', cell: (line) => distribution(line)?.recipient ?? null },
  { title: 'use', cell: (line) => distribution(line)?.use ?? null },
  { title: 'mass_kg', cell: (line) => batch(line)?.inputKg ?? distribution(line)?.massKg ?? line.ofItKg },
  { title: 'of_it_kg', cell: ({ ofItKg }) => ofItKg },
  { title: 'share_percent', cell: (line) => ('sharePercent' in line ? line.sharePercent : 100) },
  { title: 'volume_l', cell: (line) => distribution(line)?.volumeL ?? null },
  { title: 'compost_left_kg', cell: (line) => batch(line)?.compostLeftKg ?? null },
  { title: 'overs_left_kg', cell: (line) => batch(line)?.oversLeftKg ?? null },
  { title: 'note', cell: (line) => distribution(line)?.note ?? null },
];

/** RFC 4180: what is in no batch, the batches a thing came to, then what was handed out of them, one line each. */
export function recallCsv({ waiting, batches, distributions }: RecallList): string {
  return csvOf(RECALL_COLUMNS, [
    ...(waiting ? [waiting] : []),
    ...batches.map((each): Line => ({ kind: 'batch', ...each })),
    ...distributions.map((each): Line => ({ kind: 'distribution', ...each })),
  ]);
}

const localTime = (line: RecallDistribution | null): string | null =>
  line && localMinute(line.occurredAt, line.timeZone);
