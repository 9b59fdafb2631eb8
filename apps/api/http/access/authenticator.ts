import type { Actor } from './actor.js';

/** Knows who a token belongs to. The people area provides it; http only asks. */
export abstract class Authenticator {
  /** Null when the token is unknown, expired or revoked, or its person disabled. */
  abstract actorOf(token: string): Promise<Actor | null>;
}

export const SESSION_COOKIE = 'heapwright_session';

interface Carrier {
  headers: { authorization?: string | undefined };
  cookies?: Record<string, string | undefined>;
}

/** The token of a request: a Bearer header (programs) before the cookie (pages). */
export function tokenOf(request: Carrier): string | null {
  const bearer = /^Bearer ([A-Za-z0-9_-]{20,200})$/.exec(request.headers.authorization ?? '')?.[1];
  return bearer ?? request.cookies?.[SESSION_COOKIE] ?? null;
}
