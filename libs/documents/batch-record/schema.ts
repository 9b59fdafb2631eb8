import { BATCH_METHODS, BATCH_RECORD_SCHEMA, BATCH_STAGES, type BatchRecord } from './record.js';
import * as part from './schema-parts.js';
import { count, instant, listOf, objectOf, oneOf, orNull, text, type Schema } from './schema-words.js';

const stage = oneOf(...BATCH_STAGES);

/** The JSON Schema (draft 2020-12) of `record.json`. Every member is required; what is not known is null. */
export const batchRecordSchema: Schema = {
  $schema: 'https://json-schema.org/draft/2020-12/schema',
  $id: `urn:${BATCH_RECORD_SCHEMA.replaceAll('/', ':')}`,
  title: 'Batch record',
  description:
    'Everything recorded of one batch. Metric, unit in the name. Times are RFC 3339 with an offset. ' +
    'The seal is SHA-256 over the RFC 8785 canonical form of this document.',
  ...objectOf<BatchRecord>({
    schema: { const: BATCH_RECORD_SCHEMA },
    status: oneOf('draft', 'signed'),
    asOf: instant,
    version: { type: 'integer', minimum: 1 },
    amends: orNull(
      objectOf<NonNullable<BatchRecord['amends']>>({
        version: count,
        seal: { type: 'string', pattern: '^[0-9a-f]{64}$' },
        differences: listOf(text),
      }),
    ),
    programme: objectOf<BatchRecord['programme']>({ name: text }),
    site: objectOf<BatchRecord['site']>({ code: text, name: text, address: orNull(text), timeZone: text }),
    jurisdictions: listOf(part.jurisdiction),
    permit: orNull(part.permit),
    batch: objectOf<BatchRecord['batch']>({
      code: text,
      bay: orNull(text),
      method: oneOf(...BATCH_METHODS),
      stage,
      stages: listOf(
        objectOf<BatchRecord['batch']['stages'][number]>({ stage, from: instant, to: orNull(instant) }),
      ),
    }),
    intake: part.intake,
    mix: orNull(part.mix),
    checks: listOf(part.check),
    actions: listOf(part.action),
    verdict: orNull(part.verdict),
    cure: orNull(part.cure),
    samples: listOf(part.sample),
    screenings: listOf(part.screening),
    balance: orNull(part.balance),
    gates: listOf(part.gate),
    release: orNull(part.release),
    distributions: listOf(part.distribution),
    cautions: listOf(part.caution),
    deference: text,
    methods: listOf(part.method),
  }),
};
