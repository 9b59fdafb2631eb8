import { batchRecordPdf, recordOf, sealOf, type BatchRecord, type BatchRecord1 } from '#libs/documents';
import { describe, expect, it } from 'vitest';
import { bareRecord } from './example-variants.js';
import { vectorAttraction } from './example-verdict.js';
import { signedRecord } from './example.js';
import { readAloud, textOf } from './programs.js';
import record1 from './record-1.json' with { type: 'json' };

const sealed = (record: BatchRecord): Promise<Uint8Array> => batchRecordPdf(record, sealOf(record));

describe('the verdict', () => {
  const printed = async (record: BatchRecord) => textOf(await sealed(record));

  it('can be recounted from the paper: the column of hours sums to what is credited', async () => {
    const text = await printed(signedRecord());
    if (text === null) return;
    const table = text.slice(text.indexOf('Day by day'), text.indexOf('Doubtful readings'));
    const rows = [...table.matchAll(/2024-\d\d-\d\d 1 (?:24 )?1 \d\d(?:\.\d)? 64\.1 24 (\d+(?:\.\d)?)/g)];
    expect(rows).toHaveLength(17);
    const tenths = rows.reduce((sum, [, hours]) => sum + Math.round(Number(hours) * 10), 0);
    expect(tenths / 10).toBe(signedRecord().verdict?.creditedHours);
    expect(table).toMatch(/Credited 384\b/);
  });

  it('says what the rule asks besides, the other reading, doubtful thermometers and further rules', async () => {
    const text = await printed(signedRecord());
    if (text === null) return;
    for (const said of [
      '(us-503-pfrp-windrow, version 3)',
      '40 CFR 503 Appendix B, B.1, in part from memory',
      'from memory: the year of first publication',
      'above 57.5 °C',
      '60 °C for 6 hours',
      '25 to 40',
      'at least 40 %, measured',
      'No moisture was measured in the credited time.',
      'The verification of T-3 was 214 days overdue.',
      'Read as cumulative it would stand so: met on 2024-05-24 08:10, 385.5 of 360 hours credited, 5 of 5 turns.',
    ]) {
      expect(text).toContain(said);
    }
  });

  it('says of each further rule what it asks and how it stands', async () => {
    const record = { ...bareRecord(), furtherVerdicts: [vectorAttraction()] };
    const spoken = readAloud(await batchRecordPdf(record, null))?.replaceAll(/"\s+"/g, '');
    if (spoken === undefined) return;
    for (const said of [
      'Aerobic treatment for 14 days (us-503-33-b-5, version 1), 40 CFR 503.33(b)(5), from memory',
      'In progress, 312.5 of 336 hours credited. Threshold above 40 °C; probes a check 2; longest gap 36 hours; ' +
        'on average above 45 °C. The mean was 58.3 °C.',
    ]) {
      expect(spoken).toContain(said);
    }
  });

  it('names the lines of a logger in the chart', async () => {
    const text = await printed(signedRecord());
    if (text !== null) expect(text).toMatch(/L-1 lowest.*L-1 highest|L-1 highest.*L-1 lowest/s);
  });
});

describe('a record sealed in the first form', () => {
  it('is drawn as it was, without what nobody asked of it then', async () => {
    const record = recordOf(record1 as BatchRecord1);
    const text = textOf(await batchRecordPdf(record, sealOf(record1)));
    if (text === null) return;
    expect(text).toContain(sealOf(record1));
    expect(text).toContain('Met. The recorded criteria of Windrow, 55 °C for 15 days with five turns');
    expect(text).toContain('384 of 360');
    for (const later of ['version null', 'Day by day', 'Further rules', 'besides', 'from memory:']) {
      expect(text).not.toContain(later);
    }
  });

  it('is left alone where it is of the latest form', () => {
    const record = signedRecord();
    expect(recordOf(record)).toBe(record);
  });
});
