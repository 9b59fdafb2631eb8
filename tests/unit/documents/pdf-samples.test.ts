import { describe, expect, it } from 'vitest';
import { type BatchRecord, type BatchRecord1, batchRecordPdf, recordOf } from '#libs/documents';
import { signedRecord } from './example.js';
import { textOf } from './programs.js';
import record1 from './record-1.json' with { type: 'json' };

const printed = async (record: BatchRecord) => textOf(await batchRecordPdf(record, null));

describe('samples in print', () => {
  it('show every figure with its published class, its source and what is from memory', async () => {
    const text = await printed(signedRecord());
    if (text === null) return;
    for (const words of [
      '1 figure, below;',
      'Vigour of seedlings: 94 % of control',
      'The laboratory: very mature',
      'CCQC index, group B: very mature (from memory)',
      'Compost Maturity Index: not rated, since it asks for a test of group A as well.',
      'Fecal coliform: <212 MPN/g dry',
      '503 class A: keeps to below 1000 MPN/g dry',
      'Tables: 503 class A: 40 CFR 503.32(a). A class informs; the permit says what opens a gate.',
      'Compost Maturity Index, June 2001 (from memory)',
    ]) {
      expect(text).toContain(words);
    }
    expect(text).not.toContain('503 class A: 40 CFR 503.32(a) (from memory)');
  });

  it('show where figures contradict the manager, and a figure that no table knows', async () => {
    const record = signedRecord();
    const samples = record.samples.map((sample) => ({
      ...sample,
      findings: [],
      warnings: ['Passed, against its figures.'],
    }));
    const text = await printed({ ...record, samples });
    if (text === null) return;
    expect(text).toContain('Passed, against its figures.');
    expect(text).toContain('No published class is kept of it.');
  });

  it('tell of a cure what the records do not show', async () => {
    const text = await printed(signedRecord());
    if (text !== null) expect(text).toContain('No turn is recorded since it was last hot.');
  });

  it('of a record of before they were panels are told in words', async () => {
    const old = record1 as BatchRecord1;
    const { samples, cure } = recordOf(old);
    expect(samples[0]).toMatchObject({ finding: '94 % of control; Emergence and vigour even', results: [] });
    expect(cure?.notes).toEqual([]);
    const text = await printed(recordOf(old));
    if (text !== null) expect(text).toContain('94 % of control;');
  });
});
