import { problems } from '../../apps/api/http/problems/catalogue.js';
import type { Answer, TestApi } from './api.js';
import type { GoodCall } from './good-calls.js';

/** What is put wrong in a good call. */
export interface Change {
  params?: Record<string, string>;
  /** Raw, without the question mark. */
  query?: string;
  /** Raw body. */
  text?: string | Buffer;
  type?: string;
}

let callers = 0;

/** A good call as it stands, or changed. Each comes from an address of its own: what counts tries is not asked here. */
export function send(api: TestApi, call: GoodCall, change: Change = {}): Promise<Answer> {
  const [method, pattern] = call.route.split(' ') as [string, string];
  const params: Record<string, string> = { ...call.params, ...change.params };
  const path = pattern.replaceAll(/:(\w+)/g, (_, name: string) => params[name]!);
  const query = change.query ?? new URLSearchParams(call.query).toString();
  const body = change.text ?? (call.body ? JSON.stringify(call.body) : undefined);
  callers += 1;
  return api.call(method, query === '' ? path : `${path}?${query}`, {
    ...(call.as ? { as: call.as } : {}),
    ...(body === undefined ? {} : { body }),
    headers: {
      ...call.headers,
      ...(body === undefined ? {} : { 'content-type': change.type ?? 'application/json' }),
      'x-forwarded-for': `10.${callers >> 16}.${(callers >> 8) & 255}.${callers & 255}`,
    },
  });
}

const statusOf = new Map(
  Object.entries(problems).map(([code, [status]]) => [`urn:heapwright:problem:${code}`, status]),
);

/** What is amiss with the way something was refused; null when all is as it should be. */
export function amiss({ status, headers, body, text }: Answer, allowed: readonly number[]): string | null {
  const told = `${status} ${text.slice(0, 160)}`;
  if (!allowed.includes(status)) return `answered ${told}`;
  if (!String(headers['content-type']).startsWith('application/problem+json')) return `no problem: ${told}`;
  if (statusOf.get(body.type) !== status || body.status !== status)
    return `no type of the catalogue: ${told}`;
  if (status !== 422) return null;
  const pointers = ((body.errors ?? []) as { pointer: string; detail: string }[]).map(
    ({ pointer }) => pointer,
  );
  if (pointers.length === 0) return `says not where: ${told}`;
  return pointers.every((pointer) => /^(\/([^~/]|~[01])*)*$/.test(pointer))
    ? null
    : `no JSON Pointer: ${told}`;
}

/** Whether what is refused is what was wrong: the field itself, something in it, or what it is part of. */
export function isTold(pointer: string, { body }: Answer): boolean {
  const within = (inner: string, outer: string) => inner === outer || inner.startsWith(`${outer}/`);
  return (body.errors as { pointer: string }[]).some(
    (fault) => within(fault.pointer, pointer) || within(pointer, fault.pointer),
  );
}
