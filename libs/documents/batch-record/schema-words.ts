/** Any JSON Schema (draft 2020-12), as plain data. */
export type Schema = Readonly<Record<string, unknown>>;

export const text: Schema = { type: 'string' };
export const flag: Schema = { type: 'boolean' };
export const count: Schema = { type: 'integer', minimum: 0 };
export const figure: Schema = { type: 'number' };
export const amount: Schema = { type: 'number', minimum: 0 };
export const percent: Schema = { type: 'number', minimum: 0, maximum: 100 };
export const day: Schema = { type: 'string', pattern: '^\\d{4}-\\d{2}-\\d{2}$' };
/** RFC 3339 with an offset; `format` alone is only an annotation in draft 2020-12, so the pattern holds it. */
export const instant: Schema = {
  type: 'string',
  format: 'date-time',
  pattern: '^\\d{4}-\\d{2}-\\d{2}T\\d{2}:\\d{2}:\\d{2}(\\.\\d+)?(Z|[+-]\\d{2}:\\d{2})$',
};

export const orNull = (schema: Schema): Schema => ({ anyOf: [schema, { type: 'null' }] });
export const listOf = (items: Schema): Schema => ({ type: 'array', items });
export const oneOf = (...values: readonly string[]): Schema => ({ enum: values });

/** An object with exactly these members, all of them required: the type keeps schema and interface together. */
export const objectOf = <T>(properties: Record<keyof T, Schema>): Schema => ({
  type: 'object',
  properties,
  required: Object.keys(properties),
  additionalProperties: false,
});
