import { Ajv2020 } from 'ajv/dist/2020.js';
import { describe, expect, it } from 'vitest';
import { batchRecordSchema, type BatchRecord } from '#libs/documents';
import { bareRecord, longRecord } from './example-variants.js';
import { signedRecord } from './example.js';

// `format` stays an annotation, as the draft has it; the pattern beside it does the work
const ajv = new Ajv2020({ strict: true, validateFormats: false, allErrors: true, allowUnionTypes: true });
const validate = ajv.compile(batchRecordSchema);

function faultsOf(record: unknown): string[] {
  validate(JSON.parse(JSON.stringify(record)));
  return (validate.errors ?? []).map(({ instancePath, keyword }) => `${instancePath} ${keyword}`);
}

describe('the schema of record.json', () => {
  it('is itself valid under draft 2020-12', () => {
    expect(ajv.validateSchema(batchRecordSchema)).toBe(true);
  });

  it.each([
    ['signed', signedRecord()],
    ['bare', bareRecord()],
    ['long', longRecord(20)],
  ])('takes the %s example', (_name, record) => {
    expect(faultsOf(record)).toEqual([]);
  });

  const change = (alter: (record: BatchRecord) => unknown): unknown => alter(signedRecord());

  it.each([
    ['a member left out', change(({ cure: _cure, ...rest }) => rest), ' required'],
    ['a member too many', change((record) => ({ ...record, extra: 1 })), ' additionalProperties'],
    [
      'a time without offset',
      change((record) => ({ ...record, asOf: '2024-08-02T16:10:00' })),
      '/asOf pattern',
    ],
    [
      'an unknown method',
      change((record) => ({ ...record, batch: { ...record.batch, method: 'heap' } })),
      '/batch/method enum',
    ],
    [
      'a negative mass',
      change((record) => ({ ...record, intake: { ...record.intake, acceptedKg: -1 } })),
      '/intake/acceptedKg minimum',
    ],
    [
      'another schema version',
      change((record) => ({ ...record, schema: 'heapwright/batch-record/1' })),
      '/schema const',
    ],
    [
      'a further rule without what its verdict rests on',
      change((record) => ({
        ...record,
        furtherVerdicts: record.furtherVerdicts.map(({ evidence: _evidence, ...rest }) => rest),
      })),
      '/furtherVerdicts/0 required',
    ],
    ['a figure as text', change((record) => ({ ...record, version: '1' })), '/version type'],
  ])('refuses %s', (_name, record, fault) => {
    expect(faultsOf(record)).toContain(fault);
  });
});
