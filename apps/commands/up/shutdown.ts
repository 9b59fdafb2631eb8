const SIGNALS = ['SIGINT', 'SIGTERM', 'SIGHUP'] as const;
const LONGEST_MS = 20_000;

/** Ends what was started, last first, once, and then the process. */
export class Shutdown {
  private readonly steps: (() => Promise<void>)[] = [];
  private begun = false;

  constructor(private readonly say: (line: string) => void) {}

  /** `stop` runs before the stops of everything that was added earlier. */
  add(stop: () => Promise<void>): void {
    this.steps.unshift(stop);
  }

  get isUnderWay(): boolean {
    return this.begun;
  }

  /**
   * Takes the signals over from the libraries that have hung themselves on them: each would end its own part
   * at once, PostgreSQL before the requests that still use it. Call again after loading one that may.
   */
  takeSignals(): void {
    for (const signal of SIGNALS) {
      process.removeAllListeners(signal);
      process.on(signal, () => void this.run(0, 'Stopping.'));
    }
  }

  /** Never comes back. A step that fails or hangs does not keep the ones after it from their turn. */
  async run(exitCode: number, why: string): Promise<void> {
    if (this.begun) return;
    this.begun = true;
    this.say(why);
    const overdue = setTimeout(() => {
      this.say('It did not stop in time, and is ended as it is.');
      process.exit(1);
    }, LONGEST_MS);
    for (const stop of this.steps) {
      await stop().catch((error: unknown) => this.say(`while stopping: ${String(error)}`));
    }
    clearTimeout(overdue);
    if (exitCode === 0) this.say('Stopped; every record is kept.');
    process.exit(exitCode);
  }
}
