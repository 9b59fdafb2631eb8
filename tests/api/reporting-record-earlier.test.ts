import { createHash } from 'node:crypto';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { canonicalJson } from '#libs/documents';
import { startApi, type TestApi } from '../support/api.js';
import { makeProgramme } from '../support/programme.js';
import { makeYard, sqlOf, type Yard } from '../support/yard-work.js';
import { textOf } from '../unit/documents/programs.js';
import record1 from '../unit/documents/record-1.json' with { type: 'json' };
import record2 from '../unit/documents/record-2.json' with { type: 'json' };
import record3 from '../unit/documents/record-3.json' with { type: 'json' };

describe('a record that was sealed in an earlier form', () => {
  let api: TestApi;
  let yard: Yard;
  beforeAll(async () => {
    api = await startApi();
    yard = await makeYard(api, await makeProgramme(api));
  });
  afterAll(() => api.stop());

  it.each([record1, record2, record3])(
    'is served to the byte as it was sealed, and printed: $schema',
    async (record) => {
      const { id } = await yard.begin();
      const document = canonicalJson(record);
      const seal = createHash('sha256').update(document).digest('hex');
      await sqlOf(api).query(
        `INSERT INTO sealed_document (seal, kind, subject_id, version, document, sealed_by)
       VALUES ($1, 'batch-record', $2, 1, $3, $4)`,
        [seal, id, document, yard.manager.id],
      );
      const get = (form: string) =>
        api.call('GET', `/batches/${id as string}/record.${form}`, { as: yard.operator.token });
      const json = await get('json');
      expect(json.text).toBe(document);
      expect(json.body.schema).toBe(record.schema);
      expect(json.headers.etag).toContain(seal);
      const pdf = await get('pdf');
      expect(pdf.status).toBe(200);
      expect(pdf.headers['content-type']).toContain('application/pdf');
      const text = textOf(pdf.bytes);
      if (text === null) return;
      expect(text).toContain(seal);
      expect(text).toContain(`${record.verdict.creditedHours} of ${record.verdict.required.hours}`);
      expect(text).toMatch(/Carbon to nitrogen 28\.4 (–|21\.7 to 39\.2) 91\.5/);
    },
  );
});
