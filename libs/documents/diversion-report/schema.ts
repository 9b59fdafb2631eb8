import type { RateOfPeriod } from '#libs/accounting';
import { count, instant, listOf, objectOf, oneOf, orNull, text } from '../batch-record/schema-words.js';
import { amount, day, figure, flag, type Schema } from '../batch-record/schema-words.js';
import {
  DIVERSION_REPORT_SCHEMA,
  type DiversionReport,
  type OtherFigure,
  type ReportChange,
} from './report.js';
import { facility } from './schema-facility.js';
import { factorUsed, figures, greenhouse } from './schema-figures.js';

const sha256: Schema = { type: 'string', pattern: '^[0-9a-f]{64}$' };
/** Exactly as it is printed: two decimals of a short ton, three of a tonne. */
const fixed = (decimals: number): Schema => ({ type: 'string', pattern: `^-?\\d+\\.\\d{${decimals}}$` });

/** A number, printed tons or a word; null where that version has none. */
const said: Schema = { type: ['number', 'string', 'null'] };

const amends = objectOf<NonNullable<DiversionReport['amends']>>({
  version: count,
  seal: sha256,
  issuedAt: instant,
  reason: text,
  totals: listOf(objectOf<OtherFigure>({ figure: text, before: said, after: said, unit: text })),
  changes: listOf(
    objectOf<ReportChange>({
      change: oneOf('added', 'removed', 'corrected'),
      kind: text,
      sourceId: text,
      occurredAt: instant,
      localDay: day,
      timeZone: text,
      site: text,
      material: text,
      beforeKg: orNull(amount),
      afterKg: orNull(amount),
      what: listOf(text),
      reason: orNull(text),
    }),
  ),
});

const rate = objectOf<RateOfPeriod>({
  formula: text,
  title: text,
  expression: text,
  source: text,
  terms: listOf(objectOf<RateOfPeriod['terms'][number]>({ name: text, massKg: figure, from: text })),
  percent: figure,
  notes: listOf(text),
});

/** The JSON Schema (draft 2020-12) of an issued report. Every member is required; what is not known is null. */
export const diversionReportSchema: Schema = {
  $schema: 'https://json-schema.org/draft/2020-12/schema',
  $id: `urn:${DIVERSION_REPORT_SCHEMA.replaceAll('/', ':')}`,
  title: 'Diversion report',
  description:
    'What a jurisdiction is told of a period. Metric, unit in the name; masses are wet, as weighed or estimated. Printed ' +
    'rows need not add up to a printed total. The seal is SHA-256 over the RFC 8785 canonical form of this document.',
  ...objectOf<DiversionReport>({
    schema: { const: DIVERSION_REPORT_SCHEMA },
    version: { type: 'integer', minimum: 1 },
    amends: orNull(amends),
    asOf: instant,
    issuedBy: text,
    programme: objectOf<DiversionReport['programme']>({ name: text }),
    jurisdiction: objectOf<DiversionReport['jurisdiction']>({
      name: text,
      reportingYearStart: { type: 'string', pattern: '^\\d{2}-\\d{2}$' },
    }),
    period: objectOf<DiversionReport['period']>({ from: day, to: day, inWords: text, wholeYear: flag }),
    printed: objectOf<DiversionReport['printed']>({
      acceptedShortTons: fixed(2),
      divertedShortTons: fixed(2),
      acceptedTonnes: fixed(3),
      divertedTonnes: fixed(3),
    }),
    estimatedShare: orNull({ type: 'number', minimum: 0, maximum: 1 }),
    figures,
    rate: orNull(rate),
    greenhouse: orNull(greenhouse),
    facilities: listOf(facility),
    methods: listOf(objectOf<DiversionReport['methods'][number]>({ title: text, text, source: text })),
    factors: listOf(factorUsed),
    limits: listOf(text),
    rows: objectOf<DiversionReport['rows']>({ count, sha256 }),
  }),
};
