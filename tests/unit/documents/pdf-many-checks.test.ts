import { describe, expect, it } from 'vitest';
import { batchRecordPdf, sealOf } from '#libs/documents';
import { dayAt } from './example-checks.js';
import { longRecord } from './example-variants.js';
import { signedRecord } from './example.js';
import { textOf } from './programs.js';

describe('a record with many checks', () => {
  it.each([
    ['500 checks of four probes', longRecord(500)],
    [
      '2,000 checks of one probe',
      {
        ...signedRecord(),
        checks: longRecord(2000).checks.map((check, index) => ({
          ...check,
          occurredAt: dayAt(0, index / 2),
          readings: check.readings.slice(0, 1),
        })),
      },
    ],
  ])('holds %s, all of them', async (name, record) => {
    const started = performance.now();
    const pdf = await batchRecordPdf(record, sealOf(record));
    const took = Math.round(performance.now() - started);
    console.log(`${name}: ${took} ms, ${(pdf.length / 1e6).toFixed(2)} MB`);
    const text = textOf(pdf);
    if (text === null) return;
    const rows = text.match(/\d{4}-\d\d-\d\d \d\d:\d\d [\d.]+ [\d. ]+(moist|Windy|logger)/g) ?? [];
    expect(rows).toHaveLength(record.checks.length);
  });
});
