/** A seeded source of plausible figures: the same seed tells the same fourteen months. */
export class Random {
  constructor(private state: number) {}

  /** From 0 up to, not including, 1 (mulberry32). */
  next(): number {
    this.state = (this.state + 0x6d2b79f5) | 0;
    let mixed = Math.imul(this.state ^ (this.state >>> 15), 1 | this.state);
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed)) ^ mixed;
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4_294_967_296;
  }

  between(low: number, high: number): number {
    return low + (high - low) * this.next();
  }

  whole(low: number, high: number): number {
    return Math.floor(this.between(low, high + 1));
  }

  chance(share: number): boolean {
    return this.next() < share;
  }

  pick<T>(items: readonly T[]): T {
    const item = items[Math.floor(this.next() * items.length)];
    if (item === undefined) throw new RangeError('nothing to pick from');
    return item;
  }

  /** About normal, by the sum of twelve. */
  normal(mean: number, deviation: number): number {
    let sum = 0;
    for (let i = 0; i < 12; i += 1) sum += this.next();
    return mean + (sum - 6) * deviation;
  }

  /** A number of its own for another thread of the story, so that one does not disturb the other. */
  fork(): Random {
    return new Random(Math.floor(this.next() * 4_294_967_296));
  }
}
