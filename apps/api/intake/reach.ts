import type { Actor } from '../http/access/actor.js';

/**
 * Whose intake one sees. From operator up: all of one's sites. A volunteer: at their hubs, the shift that is open, the
 * shifts they opened or closed, and what they recorded themselves.
 */
export interface Reach {
  personId: string;
  /** Sites of which everything is seen; null is every site. */
  all: string[] | null;
  /** Sites of which one's own is seen, those above included. */
  own: string[] | null;
}

export function reachOf(actor: Actor): Reach {
  return { personId: actor.personId, all: actor.sitesFor('operator'), own: actor.sitesFor('volunteer') };
}

export const reachValues = ({ all, own, personId }: Reach) => [all, own, personId];

/**
 * The same as a condition over `reachValues` as $1 to $3; `isOwn` says of one row that it is one's own. Written for who
 * asks, since an OR of all cases would keep the database from looking up a volunteer's own rows alone.
 */
export function reaches({ all, own }: Reach, siteColumn: string, isOwn: string): string {
  // Every value must be used somewhere, or its type is not known.
  const used = '($1::uuid[] IS NULL OR $2::uuid[] IS NOT NULL) AND $3::uuid IS NOT NULL';
  if (all === null) return used;
  if (own?.every((siteId) => all.includes(siteId))) return `${used} AND ${siteColumn} = ANY($1)`;
  if (all.length === 0) return `${used} AND ${siteColumn} = ANY($2) AND ${isOwn}`;
  return `${used} AND ${siteColumn} = ANY($2) AND (${siteColumn} = ANY($1) OR ${isOwn})`;
}
