import {
  batchRecordPdf,
  recordOf,
  sealOf,
  type BatchRecord,
  type BatchRecord1,
  type BatchRecord2,
  type BatchRecord3,
} from '#libs/documents';
import { describe, expect, it } from 'vitest';
import { bareRecord } from './example-variants.js';
import { vectorAttraction } from './example-verdict.js';
import { signedRecord } from './example.js';
import { readAloud, textOf } from './programs.js';
import record1 from './record-1.json' with { type: 'json' };
import record2 from './record-2.json' with { type: 'json' };
import record3 from './record-3.json' with { type: 'json' };

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

  const furtherOnly = () => batchRecordPdf({ ...bareRecord(), furtherVerdicts: [vectorAttraction()] }, null);

  it('says of each further rule what it asks, how it stands and why', async () => {
    const text = textOf(await furtherOnly());
    if (text === null) return;
    for (const said of [
      'Further rule of the permit: Aerobic treatment for 14 days',
      'Aerobic treatment for 14 days (us-503-33-b-5, version 1)',
      'In progress. The recorded criteria of Aerobic treatment for 14 days (40 CFR 503.33(b)(5), from memory) are not',
      '312.5 of 336',
      'above 40 °C',
      'above 45 °C',
      'The mean was 58.3 °C.',
      'Fourteen checks, each with its coldest probe above 40 °C. 312.5 hours.',
      'The verification of T-9 was 31 days overdue.',
      'Read as cumulative it would stand so: met on 2024-05-23 08:10, 341.5 of 336 hours credited.',
    ]) {
      expect(text).toContain(said);
    }
  });

  it('tells on the first page of every rule that binds, and how many of them are met', async () => {
    const record = signedRecord();
    const text = textOf(await sealed(record), 1);
    if (text === null) return;
    expect(text).toContain('1 of 2 met');
    expect(text).toContain('Met. The recorded criteria of Windrow, 55 °C for 15 days with five turns');
    expect(text).toContain(
      'The permit also asks: In progress. The recorded criteria of Aerobic treatment for 14 days',
    );
    const alone = textOf(await sealed({ ...record, furtherVerdicts: [] }), 1);
    expect(alone).not.toContain('The permit also asks');
    expect(alone).not.toContain('of 2 met');
  });

  it('tells a caution once, and of a further rule that it goes for it too', async () => {
    const record = signedRecord();
    const { cautions = [] } = record.verdict ?? {};
    const again = { ...vectorAttraction(), cautions: [...cautions, ...vectorAttraction().cautions] };
    const text = await printed({ ...record, gates: [], furtherVerdicts: [again, again] });
    if (text === null) return;
    expect(text.split('The verification of T-3 was 214 days overdue.')).toHaveLength(2);
    expect(text.split('The verification of T-9 was 31 days overdue.')).toHaveLength(2);
    expect(text).toContain('1 caution goes for this rule as for the rule above');
    expect(text).toContain('2 cautions go for this rule as for the rule above');
  });

  it('can be recounted under a further rule as well', async () => {
    const text = textOf(await furtherOnly());
    if (text === null) return;
    const rows = [...text.matchAll(/2024-05-\d\d 1 1 \d\d(?:\.\d)? 63\.7 24 (\d+(?:\.\d)?)/g)];
    expect(rows).toHaveLength(14);
    const tenths = rows.reduce((sum, [, hours]) => sum + Math.round(Number(hours) * 10), 0);
    expect(tenths / 10).toBe(vectorAttraction().creditedHours);
  });

  it('gives its notes as a list, each once', async () => {
    const spoken = readAloud(await furtherOnly());
    if (spoken === null) return;
    for (const note of vectorAttraction().notes) {
      const item = new RegExp(`LBody\\s*(?:\\(block\\))?:?\\s*"${note}"`, 'g');
      expect(spoken.match(item)).toHaveLength(1);
      expect(spoken.split(note)).toHaveLength(2);
    }
  });

  it('names the lines of a logger in the chart', async () => {
    const text = await printed(signedRecord());
    if (text !== null) expect(text).toMatch(/L-1 lowest.*L-1 highest|L-1 highest.*L-1 lowest/s);
  });
});

describe('a record sealed in an earlier form', () => {
  it('of the first is drawn as it was, without what nobody asked of it then', async () => {
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

  it('of the second form as well: its mix has no ranges, and the one source of each material', async () => {
    const record = recordOf(record2 as BatchRecord2);
    expect(record.permit?.mixTargets).toEqual([]);
    expect(record.mix?.figures.carbonToNitrogen).toEqual({
      value: 28.4,
      range: null,
      knownMassPercent: 91.5,
    });
    const { bulkDensityKgM3, moisturePercent } = record.mix!.materials[1]!.figures;
    expect(bulkDensityKgM3).toBeNull();
    expect(moisturePercent).toMatchObject({
      typical: 60,
      source: 'from memory',
      verification: 'from-memory',
    });
    const text = textOf(await batchRecordPdf(record, sealOf(record2)));
    if (text === null) return;
    expect(text).toContain(sealOf(record2));
    expect(text).toMatch(/Carbon to nitrogen 28\.4 – 91\.5 Preferred, 25 to 30: within/);
    expect(text).toContain('The mean was 58.3 °C.');
    for (const later of ['Greens to browns', 'Of it weighed', 'Taken as a point', 'Mix asked for']) {
      expect(text).not.toContain(later);
    }
  });

  it('of the third form as well: nobody had merged, measured or held it, and no haul was weighed', async () => {
    const record = recordOf(record3 as unknown as BatchRecord3);
    expect(record).toMatchObject({ merges: [], piles: [], holds: [], intake: { sharedKg: 0 } });
    expect(record.intake.materials.map(({ sharedKg }) => sharedKg)).toEqual([0, 0, 0]);
    const text = textOf(await batchRecordPdf(record, sealOf(record3)));
    if (text === null) return;
    expect(text).toContain(sealOf(record3));
    for (const later of ['Shared', 'Merged batches', 'How big it was', 'On hold']) {
      expect(text).not.toContain(later);
    }
  });

  it('is left alone where it is of the latest form', () => {
    const record = signedRecord();
    expect(recordOf(record)).toBe(record);
  });
});
