import { createHash } from 'node:crypto';
import canonicalizeModule from 'canonicalize';

/** The package exports the function itself; its declaration file says it has a `default` member instead. */
const canonicalize = canonicalizeModule as unknown as (value: unknown) => string | undefined;

/** An escaped surrogate in the output can only be a lone one: paired surrogates are written raw. */
const LONE_SURROGATE = /(?<!\\)(?:\\\\)*\\ud[89a-f]/;

/**
 * JSON in the one form that RFC 8785 allows: members sorted by UTF-16 code unit, no white space,
 * numbers as ECMAScript prints them.
 *
 * @throws TypeError for what JSON cannot hold (undefined, a function, NaN, an infinity, a bigint, a lone
 *   surrogate; RFC 8785 §3.2.2.2 and §3.2.2.3 ask for an error rather than a guess).
 */
export function canonicalJson(value: unknown): string {
  let text: string | undefined;
  try {
    text = canonicalize(value);
  } catch (cause) {
    throw new TypeError('The value has no canonical JSON form.', { cause });
  }
  if (text === undefined || LONE_SURROGATE.test(text)) {
    throw new TypeError('The value has no canonical JSON form.');
  }
  return text;
}

/** The seal of a document: SHA-256 over its canonical JSON in UTF-8, as 64 lower-case hexadecimal digits. */
export function sealOf(value: unknown): string {
  return createHash('sha256').update(canonicalJson(value), 'utf8').digest('hex');
}
