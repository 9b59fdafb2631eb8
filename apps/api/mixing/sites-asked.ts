import type { Actor } from '../http/access/actor.js';

/** Yards whose things are listed: all where one is an operator, or the one asked for among them; null is every yard. */
export function sitesAsked(actor: Actor, siteId: string | undefined): string[] | null {
  if (siteId === undefined) return actor.sitesFor('operator');
  const id = siteId.toLowerCase();
  return actor.mayAt('operator', id) ? [id] : [];
}
