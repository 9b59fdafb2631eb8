import { splitByLargestRemainder, sumG } from '#libs/quantities';

/** What went into a batch of one material. */
export interface MaterialLine {
  materialCode: string;
  massG: number;
  /** Part of it that was estimated from a volume. */
  estimatedG: number;
  /** The volume that was seen of that part: of what is in the batch of a lot, its share. */
  estimatedMl: number;
}

/** A batch, what went into it, and where it was merged to; null of the batch that is asked about. */
export interface MergedPart {
  batchId: string;
  takerId: string | null;
  /** What went into the other batch, of all that had gone into this one. */
  mergedG: number;
  lines: MaterialLine[];
}

/**
 * What a batch is mixed of, where others were merged in: the materials of each, in proportion, make the mass that was
 * merged, to the gram. Parts are in order: what came into a batch before the batch itself, which is asked about last.
 */
export function mergedLines(parts: readonly MergedPart[]): MaterialLine[] {
  const cameInto = new Map<string | null, MaterialLine[]>();
  for (const { batchId, takerId, mergedG, lines } of parts) {
    const all = [...lines, ...(cameInto.get(batchId) ?? [])];
    const gone = takerId === null ? all : scaledTo(mergedG, all);
    cameInto.set(takerId, [...(cameInto.get(takerId) ?? []), ...gone]);
  }
  return byMaterial(cameInto.get(null) ?? []);
}

function scaledTo(massG: number, lines: readonly MaterialLine[]): MaterialLine[] {
  const weights = lines.flatMap(({ massG: of, estimatedG }) => [estimatedG, of - estimatedG]);
  if (sumG(weights) === 0) return [];
  const grams = splitByLargestRemainder(massG, weights);
  return lines.map(({ materialCode, estimatedG: seenG, estimatedMl: seenMl }, index) => {
    const estimatedG = grams[2 * index] ?? 0;
    const weighedG = grams[2 * index + 1] ?? 0;
    const estimatedMl = seenG === 0 ? 0 : (seenMl * estimatedG) / seenG;
    return { materialCode, massG: estimatedG + weighedG, estimatedG, estimatedMl };
  });
}

function byMaterial(lines: readonly MaterialLine[]): MaterialLine[] {
  const together = new Map<string, MaterialLine>();
  for (const line of lines) {
    const { materialCode } = line;
    const before = together.get(materialCode);
    together.set(materialCode, {
      materialCode,
      massG: line.massG + (before?.massG ?? 0),
      estimatedG: line.estimatedG + (before?.estimatedG ?? 0),
      estimatedMl: line.estimatedMl + (before?.estimatedMl ?? 0),
    });
  }
  return [...together.values()].sort((a, b) => (a.materialCode < b.materialCode ? -1 : 1));
}
