import type { Contract, Schema } from './contract.js';

const MEGA = `"${'x'.repeat(1_000_000)}"`;

/** JSON texts that are no value of any field, but for those that `takes` names. */
const NASTY = [
  ...['null', '{}', '[]', '""', '-1', '1e308', '1e999', '-1e999', 'true', '"\\u0000"', '"\\ud83e"', '[[]]'],
  MEGA,
];

const NO_INSTANT = [
  ...[
    '2026-02-03T10:00:00',
    '2026-02-03',
    '2026-02-30T10:00:00Z',
    '2026-02-03T25:00:00Z',
    '2026-02-03T10:00:60Z',
  ],
  ...['2026-02-03T10:00:00+25:00', '+275760-09-13T00:00:00Z', '275760-09-13T00:00:00Z', '1770000000'],
];

/** Times that a calendar has, and nobody's day of work. */
const NEVER_HAPPENED = ['0000-01-01T00:00:00Z', '0026-02-03T10:00:00Z', '9999-12-31T23:59:59Z'];

const NO_DATE = [
  '2026-02-30',
  '2026-13-01',
  '26-01-01',
  '2026-02-03T10:00:00Z',
  '0000-01-01',
  '275760-09-13',
];

const NO_UUID = ['seven', '0192f0c2-0000-7000-8000-00000000000', '{0192f0c2-0000-7000-8000-000000000000}'];

const texts = (values: readonly string[]) => values.map((value) => JSON.stringify(value));

/** Whether the document itself takes it: then it is no garbage. */
function takes(schema: Schema, text: string): boolean {
  if (text === 'null') return schema.nullable === true;
  if (text === 'true') return schema.type === 'boolean';
  if (text === '[]') return schema.type === 'array' && (schema.minItems ?? 0) === 0;
  if (text === '{}') return schema.type === 'object' && (schema.required ?? []).length === 0;
  if (text === '-1') return ['number', 'integer'].includes(schema.type!) && (schema.minimum ?? -1) <= -1;
  return false;
}

function nastiesOf(schema: Schema, name: string): string[] {
  const usual = NASTY.filter((text) => !takes(schema, text));
  if (schema.enum) return [...usual, '"neither-of-them"'];
  if (schema.format === 'uuid') return [...usual, ...texts(NO_UUID)];
  if (schema.format === 'date') return [...usual, ...texts(NO_DATE)];
  if (schema.format !== 'date-time') return usual;
  return [...usual, ...texts(NO_INSTANT), ...(name === 'occurredAt' ? texts(NEVER_HAPPENED) : [])];
}

export interface Fault {
  /** JSON Pointer of the one field that is wrong. */
  pointer: string;
  /** What stands in it, as JSON. */
  nasty: string;
  /** The whole body, as JSON. */
  text: string;
}

type Json = Record<string, unknown> | unknown[];
const HERE = '@here@';

/** Every field that the schema documents, one at a time, with everything that it cannot be; and one that it has not. */
export function* faultsOf(contract: Contract, schema: Schema, good: object): Generator<Fault> {
  yield { pointer: '/colour', nasty: '"green"', text: JSON.stringify({ ...good, colour: 'green' }) };
  for (const { path, schema: field } of fieldsOf(contract, schema, good, [])) {
    const pointer = `/${path.join('/')}`;
    const [before, after] = JSON.stringify(put(good as Json, path, HERE)).split(`"${HERE}"`) as [
      string,
      string,
    ];
    for (const nasty of nastiesOf(field, path.at(-1)!)) {
      yield { pointer, nasty, text: before + nasty + after };
    }
  }
}

interface Field {
  path: string[];
  schema: Schema;
}

function* fieldsOf(contract: Contract, schema: Schema, good: unknown, path: string[]): Generator<Field> {
  for (const [name, declared] of Object.entries(schema.properties ?? {})) {
    const field = contract.plain(declared);
    const here = [...path, name];
    yield { path: here, schema: field };
    const value = (good as Record<string, unknown> | undefined)?.[name];
    if (field.properties) yield* fieldsOf(contract, field, value, here);
    const item = field.items && contract.plain(field.items);
    if (!item) continue;
    const first = (value as unknown[] | undefined)?.[0];
    if (item.properties) yield* fieldsOf(contract, item, first, [...here, '0']);
    else yield { path: [...here, '0'], schema: item };
  }
}

/** A copy with one value in place; what is missing on the way is made. */
function put(into: Json | undefined, [name, ...rest]: readonly string[], value: unknown): Json {
  const copy: Json =
    Array.isArray(into) || /^\d+$/.test(name!) ? Array.from((into ?? []) as unknown[]) : { ...into };
  const fields = copy as Record<string, unknown>;
  fields[name!] = rest.length === 0 ? value : put(fields[name!] as Json | undefined, rest, value);
  return copy;
}

/** Query texts that are no value of the parameter. */
export function nastyQueriesOf(schema: Schema, name: string): string[] {
  const never = ['', '%00', 'x'.repeat(5_000)];
  if (name === 'limit')
    return [...never, '0', '-1', '1e9', 'abc', '201', '1.5', 'NaN', 'Infinity', 'null', '0x1F'];
  if (name === 'cursor') return [...never, ...NO_CURSOR];
  const odd = ['%ff', 'null', '-1', '[]', '%7B%7D', '1e999'];
  if (schema.enum) return [...never, ...odd, 'neither'];
  if (schema.format === 'uuid') return [...never, ...odd, ...NO_UUID.map(encodeURIComponent)];
  if (schema.format === 'date') return [...never, ...odd, ...NO_DATE];
  if (schema.format === 'date-time') return [...never, ...odd, ...NO_INSTANT.map(encodeURIComponent)];
  return never;
}

export const cursor = (key: unknown) => Buffer.from(JSON.stringify(key)).toString('base64url');

const NO_CURSOR = [
  ...['abc', '!!!', '%7B%7D', 'bnVsbA', 'W10'],
  ...[[], {}, [null], [[]], [{}], [true], [1, 2, 3], ['a', 'b', 'c'], ['\u0000', '\u0000'], ['\u0000']].map(
    cursor,
  ),
  ...[1e308, '1e999'].flatMap((part) => [cursor([part, part]), cursor([part, 'x'])]),
];
