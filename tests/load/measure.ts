/** One measured figure. `ratio` is against the baseline named, measured in the same run. */
export interface Figure {
  what: string;
  value: number;
  unit: string;
  baseline?: string;
  ratio?: number;
}

export const median = (values: readonly number[]): number => {
  const sorted = [...values].sort((a, b) => a - b);
  const middle = sorted[Math.floor(sorted.length / 2)];
  if (middle === undefined) throw new RangeError('a median of nothing');
  return middle;
};

/** Calls `one` `total` times with `inFlight` of them under way, and answers how many a second. */
export async function perSecond(
  total: number,
  inFlight: number,
  one: (index: number) => Promise<void>,
): Promise<number> {
  let next = 0;
  const begun = performance.now();
  const worker = async () => {
    while (next < total) {
      const index = next;
      next += 1;
      await one(index);
    }
  };
  await Promise.all(Array.from({ length: inFlight }, worker));
  return total / ((performance.now() - begun) / 1000);
}

export async function milliseconds(work: () => Promise<unknown>): Promise<number> {
  const begun = performance.now();
  await work();
  return performance.now() - begun;
}

/**
 * Runs two things in turn, `rounds` times, so that whatever else the machine does falls on both; answers the
 * medians.
 */
export async function sideBySide(
  rounds: number,
  first: () => Promise<number>,
  second: () => Promise<number>,
): Promise<[number, number]> {
  const results: [number[], number[]] = [[], []];
  for (let round = 0; round < rounds; round += 1) {
    results[0].push(await first());
    results[1].push(await second());
  }
  return [median(results[0]), median(results[1])];
}
