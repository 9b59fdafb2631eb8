import { type AdditionsAnswer, type HandedOut, usualFirst } from './additions/index.js';

/** So much of a material that the yard does not have. */
export interface WantedMaterial {
  readonly materialCode: string;
  readonly massG: number;
  /** Null where the density is unknown. */
  readonly volumeMl: number | null;
}

/** What is lacking for some batches: any one of `anyOf` would do for all of them, or, where that is empty, all of `allOf`. */
export interface Ask<Key> {
  readonly keys: readonly Key[];
  /** In the order of `usualFirst`. */
  readonly anyOf: readonly WantedMaterial[];
  readonly allOf: readonly WantedMaterial[];
}

export interface Asks<Key> {
  readonly asks: readonly Ask<Key>[];
  /** Batches that nothing obtainable brings into range. */
  readonly beyondHelp: readonly Key[];
}

/**
 * What to ask for on behalf of all batches together. Batches that one and the same material would help are put together
 * and share what would help each of them, so that donors read one list and not one a batch.
 */
export function asksOf<Key>(answers: HandedOut<Key>['answers']): Asks<Key> {
  const asks: Ask<Key>[] = [];
  const beyondHelp: Key[] = [];
  for (const { key, answer } of answers) {
    if (answer.state !== 'impossible') continue;
    const own = askOf(key, answer);
    if (own === null) {
      beyondHelp.push(key);
      continue;
    }
    const at = asks.findIndex((ask) => joined(ask, own) !== null);
    const together = at < 0 ? null : joined(asks[at] ?? own, own);
    if (together) asks[at] = together;
    else asks.push(own);
  }
  return { asks, beyondHelp };
}

function askOf<Key>(key: Key, { wouldHelp, together }: AdditionsAnswer): Ask<Key> | null {
  if (wouldHelp.length + together.length === 0) return null;
  return { keys: [key], anyOf: wouldHelp.map(plain), allOf: wouldHelp.length > 0 ? [] : together.map(plain) };
}

const plain = ({ materialCode, massG, volumeMl }: WantedMaterial): WantedMaterial => ({
  ...{ materialCode, massG, volumeMl },
});

/** Both asks in one; null where no one material would do for both. What is needed together is only joined with the same. */
function joined<Key>(one: Ask<Key>, other: Ask<Key>): Ask<Key> | null {
  const keys = [...one.keys, ...other.keys];
  const anyOf = inBoth(one.anyOf, other.anyOf);
  if (anyOf.length > 0) return { keys, anyOf: anyOf.toSorted(usualFirst), allOf: [] };
  const allOf = inBoth(one.allOf, other.allOf);
  const same = allOf.length > 0 && allOf.length === one.allOf.length && allOf.length === other.allOf.length;
  return same ? { keys, anyOf: [], allOf } : null;
}

function inBoth(ones: readonly WantedMaterial[], others: readonly WantedMaterial[]): WantedMaterial[] {
  return ones.flatMap((one) => {
    const other = others.find(({ materialCode }) => materialCode === one.materialCode);
    if (!other) return [];
    const volumeMl = one.volumeMl === null || other.volumeMl === null ? null : one.volumeMl + other.volumeMl;
    return [{ materialCode: one.materialCode, massG: one.massG + other.massG, volumeMl }];
  });
}
