import {
  BATCH_METHODS,
  BATCH_RECORD_SCHEMA,
  BATCH_STAGES,
  type BatchRecord,
  type Caution,
  type Method,
} from './record.js';
import * as account from './schema-accounts.js';
import * as input from './schema-inputs.js';
import { mix } from './schema-mix.js';
import * as monitoring from './schema-monitoring.js';
import * as release from './schema-release.js';
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
    site: objectOf<BatchRecord['site']>({ code: text, name: text, timeZone: text }),
    jurisdictions: listOf(input.jurisdiction),
    permit: orNull(input.permit),
    batch: objectOf<BatchRecord['batch']>({
      code: text,
      bay: orNull(text),
      method: oneOf(...BATCH_METHODS),
      stage,
      stages: listOf(
        objectOf<BatchRecord['batch']['stages'][number]>({ stage, enteredAt: instant, reason: orNull(text) }),
      ),
    }),
    intake: input.intake,
    merges: listOf(account.merge),
    mix: orNull(mix),
    checks: listOf(monitoring.check),
    loggers: listOf(monitoring.loggerHours),
    actions: listOf(monitoring.action),
    verdict: orNull(monitoring.verdict),
    furtherVerdicts: listOf(monitoring.furtherVerdict),
    cure: orNull(release.cure),
    samples: listOf(release.sample),
    screenings: listOf(release.screening),
    piles: listOf(account.pile),
    balance: orNull(release.balance),
    holds: listOf(account.hold),
    gates: listOf(release.gate),
    release: orNull(release.release),
    distributions: listOf(release.distribution),
    cautions: listOf(objectOf<Caution>({ topic: text, text, source: text })),
    deference: text,
    methods: listOf(objectOf<Method>({ title: text, text, source: text })),
  }),
};
