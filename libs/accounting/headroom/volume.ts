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
  /** Null where there is no limit; below zero beyond it. */
  readonly leftMl: number | null;
  readonly share: number | null;
}

/** How much of a limit of stored volume is used. Whole millilitres. */
export function volumeUse(parts: readonly StoredPart[], limitMl: number | null): VolumeUse {
  const usedMl = parts.reduce((sum, { volumeMl }) => sum + (volumeMl ?? 0), 0);
  return {
    usedMl,
    unknown: parts.filter(({ volumeMl }) => volumeMl === null).map(({ name }) => name),
    limitMl,
    leftMl: limitMl === null ? null : limitMl - usedMl,
    share: limitMl === null ? null : usedMl / limitMl,
  };
}
