/** A heap, a batch or what waits; null where nobody knows its volume. */
export interface StoredPart {
  readonly name: string;
  readonly volumeMl: number | null;
}

export interface VolumeUse {
  /** Of what is known. */
  readonly usedMl: number;
  /** Names of what lies there of unknown volume: the whole is more than `usedMl`. */
  readonly unknown: readonly string[];
  readonly limitMl: number | null;
  /** Null where there is no limit, or where more lies there than is known and the limit may be passed; below zero beyond it. */
  readonly leftMl: number | null;
  readonly share: number | null;
}

/** How much of a limit of stored volume is used. Whole millilitres. */
export function volumeUse(parts: readonly StoredPart[], limitMl: number | null): VolumeUse {
  const usedMl = parts.reduce((sum, { volumeMl }) => sum + (volumeMl ?? 0), 0);
  const unknown = parts.filter(({ volumeMl }) => volumeMl === null).map(({ name }) => name);
  if (limitMl === null || (unknown.length > 0 && usedMl <= limitMl))
    return { usedMl, unknown, limitMl, leftMl: null, share: null };
  return { usedMl, unknown, limitMl, leftMl: limitMl - usedMl, share: usedMl / limitMl };
}
