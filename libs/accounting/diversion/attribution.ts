import { type BatchLink, compositionsOf, partsOf, type SourceInput } from '../trace/index.js';
import type { ResidueConvention } from './figures.js';

/** What went into a batch of the lots of one jurisdiction, hub and material; of what came through no drop-off, of one material. */
export interface GroupInput {
  readonly batchId: string;
  /** Null, and so is `siteId`, of what came through no drop-off. */
  readonly jurisdictionId: string | null;
  /** Where the lots were dropped off. */
  readonly siteId: string | null;
  readonly material: string;
  readonly massG: number;
}

/** What one screening took out of a batch that is no compost. */
export interface Residue {
  readonly batchId: string;
  /** The yard. */
  readonly siteId: string;
  readonly month: string;
  readonly wentTo: string;
  readonly massG: number;
}

/** Residue as it falls to one site and material. */
export interface ResidueShare {
  readonly siteId: string;
  /** Null where nothing is recorded of what the batch was made of. */
  readonly material: string | null;
  readonly month: string;
  readonly wentTo: string;
  readonly massG: number;
}

/** Whose residue is asked for; of these sites alone where they are named. */
export interface ResidueAsked {
  readonly jurisdictionId: string;
  readonly siteIds: readonly string[] | null;
  readonly residueTo: ResidueConvention;
}

/**
 * Residue booked to a jurisdiction, in whole grams, each screening by itself, so that what falls to all jurisdictions together
 * is what was taken out, in whatever periods it is told.
 *
 * `traced`: by the mass of each group of lots in its batch, through returned overs and merged batches back to what people
 * brought, by the largest remainder. What came through no drop-off takes no share: residue is taken to have come with what
 * was dropped off. Of a batch without any drop-off it falls to nobody.
 * `site`: all of it to where the yard stands (give it the residue of those yards alone); the same shares then say only of
 * which material it is.
 *
 * `inputs` and `links` are those of the screened batches and of every batch that led into them, water left out.
 * Throws RangeError on a mass that is not whole and zero or more, and where links lead round in a circle.
 */
export function attributeResidue(
  residues: readonly Residue[],
  inputs: readonly GroupInput[],
  links: readonly BatchLink[],
  asked: ResidueAsked,
): ResidueShare[] {
  const { groups, sources } = numbered(inputs);
  const compositions = compositionsOf({ inputs: sources, links });
  return residues.flatMap(({ massG, ...residue }) => {
    const composition = compositions.get(residue.batchId) ?? new Map<string, number>();
    const brought = new Map([...composition].filter(([id]) => groups.get(id)?.jurisdictionId));
    const shares = partsOf(massG, brought.size > 0 ? brought : composition, residue.batchId);
    return [...shares].flatMap(([id, partG]) => {
      const group = groups.get(id);
      const siteId = asked.residueTo === 'traced' ? group?.siteId : residue.siteId;
      const booked = asked.residueTo === 'site' || group?.jurisdictionId === asked.jurisdictionId;
      if (!booked || !siteId || !(asked.siteIds?.includes(siteId) ?? true)) return [];
      const { month, wentTo } = residue;
      return [{ siteId, month, wentTo, material: group?.material ?? null, massG: partG }];
    });
  });
}

/**
 * Groups under short names in the order of their long ones, by which ties fall alike in whatever part of the web they are met: long
 * names would be compared a million times over.
 */
function numbered(inputs: readonly GroupInput[]): {
  groups: ReadonlyMap<string, GroupInput>;
  sources: SourceInput[];
} {
  const names = [...new Set(inputs.map(nameOf))].sort();
  const shortOf = new Map(names.map((name, index) => [name, String(index).padStart(9, '0')]));
  const groups = new Map<string, GroupInput>();
  const sources = inputs.map((input) => {
    const sourceId = shortOf.get(nameOf(input)) ?? '';
    groups.set(sourceId, input);
    return { batchId: input.batchId, massG: input.massG, sourceId };
  });
  return { groups, sources };
}

const nameOf = ({ jurisdictionId, siteId, material }: GroupInput): string =>
  jurisdictionId && siteId ? [jurisdictionId, siteId, material].join(' ') : `stock:${material}`;
