import { type BatchRecord, batchRecordPdf } from '#libs/documents';
import { type Figure, median, milliseconds } from './measure.js';

/** A batch record with 2,000 readings drawn as PDF, in this process. */
export async function recordFigures(record: BatchRecord): Promise<Figure[]> {
  const readings = record.checks.reduce((sum, check) => sum + check.readings.length, 0);
  let bytes = 0;
  const draw = async () => {
    bytes = (await batchRecordPdf(record, null)).byteLength;
  };
  await draw();
  const idleMb = process.memoryUsage().rss / 1e6;
  const times: number[] = [];
  for (let round = 0; round < 5; round += 1) times.push(await milliseconds(draw));
  const what = `batch record PDF, ${readings} readings`;
  return [
    { what, value: median(times), unit: 'ms' },
    { what: `${what}, size`, value: bytes / 1e6, unit: 'MB' },
    { what: `${what}, memory above idle`, value: process.memoryUsage().rss / 1e6 - idleMb, unit: 'MB' },
  ];
}
