import type { TestApi } from './api.js';
import { sqlOf } from './yard-work.js';

/** So many grams from one place to another. A place that holds anything is named with its id, "batch:0199…". */
export interface Move {
  from: string;
  to: string;
  massG: number;
}

export interface BookedLot {
  id: string;
  siteId: string;
  occurredAt: string;
  byVolume: boolean;
  netG: number;
  rejects: { massG: number; to: string }[];
  voided: boolean;
}

export interface BookedHaul {
  id: string;
  lots: BookedLot[];
  fromSite: string;
  /** Null where somebody else composts it. */
  toSite: string | null;
  /** What those lots were estimated at that were weighed with it; null while it is on the road. */
  received: { before: { lot: BookedLot; netG: number }[] } | null;
  voided: boolean;
}

/** Anything else that moved mass, and how it is taken back. */
export interface BookedEntry {
  kind: string;
  voidPath: string | null;
  moves: Move[];
  voided: boolean;
}

const HOLDS = ['site', 'road', 'batch', 'compost', 'overs'];

export const acceptedG = ({ netG, rejects }: BookedLot): number =>
  rejects.reduce((left, { massG }) => left - massG, netG);

/** What was done, kept beside the database and without looking at it. */
export class Books {
  readonly lots: BookedLot[] = [];
  readonly hauls: BookedHaul[] = [];
  readonly entries: BookedEntry[] = [];

  haulOf(lot: BookedLot): BookedHaul | undefined {
    return this.hauls.find(({ voided, lots }) => !voided && lots.includes(lot));
  }

  /** Where a lot lies that can go into a batch. */
  placeOf(lot: BookedLot): string {
    const haul = this.haulOf(lot);
    return `site:${haul?.toSite ?? lot.siteId}`;
  }

  /** What each place holds. Those that hold nothing are left out; where things come from is below nothing. */
  ledger(): Record<string, number> {
    const sums = new Map<string, number>();
    const put = (place: string, massG: number) => sums.set(place, (sums.get(place) ?? 0) + massG);
    for (const { from, to, massG } of this.moves()) {
      put(from, -massG);
      put(to, massG);
    }
    return Object.fromEntries([...sums].filter(([, massG]) => massG !== 0).sort());
  }

  private *moves(): Generator<Move> {
    for (const lot of this.lots) {
      if (lot.voided) continue;
      const site = `site:${lot.siteId}`;
      yield { from: 'origin', to: site, massG: lot.netG };
      for (const { massG, to } of lot.rejects) yield { from: site, to, massG };
    }
    for (const { id, lots, fromSite, toSite, received, voided } of this.hauls) {
      if (voided) continue;
      for (const lot of lots) {
        if (lot.voided) continue;
        const massG = acceptedG(lot);
        yield { from: `site:${fromSite}`, to: `road:${id}`, massG };
        if (toSite === null) yield { from: `road:${id}`, to: 'other-composting', massG };
        else if (received) yield { from: `road:${id}`, to: `site:${toSite}`, massG };
      }
    }
    for (const { moves, voided } of this.entries) if (!voided) yield* moves;
  }
}

const LEDGER = `
  SELECT place, sum(mass_g)::bigint AS "massG" FROM (
    SELECT to_place || CASE WHEN to_place = ANY ($1) THEN ':' || to_id ELSE '' END AS place, mass_g FROM mass_flow
    UNION ALL
    SELECT from_place || CASE WHEN from_place = ANY ($1) THEN ':' || from_id ELSE '' END, -mass_g FROM mass_flow) AS moved
  GROUP BY place HAVING sum(mass_g) <> 0 ORDER BY place`;

/** The same as the database has it: sums of its movements. */
export async function ledgerOf(api: TestApi): Promise<Record<string, number>> {
  const rows = await sqlOf(api).query<{ place: string; massG: number }>(LEDGER, [HOLDS]);
  return Object.fromEntries(rows.map(({ place, massG }) => [place, massG]));
}

/** The places that hold something, and how much. */
export const held = (ledger: Record<string, number>): [string, number][] =>
  Object.entries(ledger).filter(([place]) => place.includes(':'));
