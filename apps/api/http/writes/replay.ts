import { createHash } from 'node:crypto';
import { canonicalJson } from '#libs/documents';
import { Problem } from '../problems/catalogue.js';

/** Digest of a body as it was sent, whatever the order of its fields: how a re-sent entry is known. */
export function bodyDigest(body: object): Buffer {
  return createHash('sha256').update(canonicalJson(body)).digest();
}

/** The same id may only ever carry the same body. */
export function requireSameBody(kept: Uint8Array, sent: Uint8Array): void {
  if (Buffer.compare(kept, sent) !== 0) throw new Problem('other-body');
}

/** What a repeatable POST answers with: `replayed` makes it a 200 instead of a 201. */
export interface Recorded<T> {
  replayed: boolean;
  body: T;
}
