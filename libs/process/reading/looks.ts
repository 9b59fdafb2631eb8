import { wholeMs } from '../calendar.js';
import { lacks, type BatchFacts, type LoggerSeries } from '../facts.js';
import { momentsOf, worseOf, type Moment } from './moments.js';
import type { ProbeTerms } from './terms.js';

type Looked = Pick<BatchFacts, 'checks' | 'series'>;

/**
 * What checks and loggers show after one instant and up to another, in order of time. Where several look at one
 * instant, the worst stands. Rows of loggers become moments one at a time, so that a year of them takes no room.
 */
export function* looksIn(
  { checks, series = [] }: Looked,
  terms: ProbeTerms,
  afterMs: number,
  throughMs: number,
): Generator<Moment> {
  const byHand = checks.filter(({ occurredAtMs }) => wholeMs(occurredAtMs) > afterMs);
  const sources: Source[] = [
    new Moments(momentsOf(byHand, terms)),
    ...series.map((each) => new Rows(each, afterMs)),
  ];
  for (;;) {
    let atMs = Infinity;
    for (const source of sources) atMs = Math.min(atMs, source.atMs);
    if (atMs > throughMs || atMs === Infinity) return;
    let moment: Moment | null = null;
    for (const source of sources) {
      while (source.atMs === atMs) {
        const next = source.take();
        moment = moment === null ? next : worseOf(moment, next);
      }
    }
    if (moment !== null) yield moment;
  }
}

/** Checks and logger rows after an instant; null where there are none. */
export interface Ahead {
  readonly fromMs: number;
  readonly toMs: number;
  readonly checks: number;
  readonly readings: number;
}

export function aheadIn({ checks, series = [] }: Looked, throughMs: number): Ahead | null {
  const ahead = { fromMs: Infinity, toMs: -Infinity, checks: 0, readings: 0 };
  const count = (occurredAtMs: number, what: 'checks' | 'readings') => {
    const atMs = wholeMs(occurredAtMs);
    if (atMs <= throughMs) return;
    ahead.fromMs = Math.min(ahead.fromMs, atMs);
    ahead.toMs = Math.max(ahead.toMs, atMs);
    ahead[what] += 1;
  };
  for (const { occurredAtMs } of checks) count(occurredAtMs, 'checks');
  for (const { atMs } of series) for (const each of atMs) count(each, 'readings');
  return ahead.checks + ahead.readings === 0 ? null : ahead;
}

interface Source {
  /** Of the next moment; Infinity when there is none. */
  readonly atMs: number;
  take(): Moment;
}

class Moments implements Source {
  atMs = Infinity;
  #next = 0;

  constructor(readonly moments: readonly Moment[]) {
    this.atMs = moments[0]?.atMs ?? Infinity;
  }

  take(): Moment {
    const moment = this.moments[this.#next] ?? nothing;
    this.#next += 1;
    this.atMs = this.moments[this.#next]?.atMs ?? Infinity;
    return moment;
  }
}

/** The rows of one logger, put in order of time if they are not. */
class Rows implements Source {
  atMs = Infinity;
  #next = -1;
  readonly #order: Uint32Array | null;

  constructor(
    readonly series: LoggerSeries,
    afterMs: number,
  ) {
    this.#order = orderOf(series.atMs);
    do this.#advance();
    while (this.atMs <= afterMs);
  }

  take(): Moment {
    const { logger, lowDeciC, highDeciC, enough, lack } = this.series;
    const row = this.#row();
    const moment = {
      atMs: this.atMs,
      lowDeciC: lowDeciC[row] ?? Infinity,
      highDeciC: highDeciC[row] ?? -Infinity,
      lack: enough[row] === 1 ? null : (lacks[lack[row] ?? 0] ?? 'implausible'),
      checkId: null,
      logger,
    };
    this.#advance();
    return moment;
  }

  #advance(): void {
    this.#next += 1;
    const atMs = this.series.atMs[this.#row()];
    this.atMs = atMs === undefined ? Infinity : wholeMs(atMs);
  }

  #row(): number {
    return this.#order === null ? this.#next : (this.#order[this.#next] ?? Infinity);
  }
}

/** Null when they are in order already. */
function orderOf(atMs: Float64Array): Uint32Array | null {
  for (let row = 1; row < atMs.length; row += 1) {
    if ((atMs[row - 1] ?? 0) > (atMs[row] ?? 0)) {
      return Uint32Array.from(atMs.keys()).sort((a, b) => (atMs[a] ?? 0) - (atMs[b] ?? 0));
    }
  }
  return null;
}

const nothing: Moment = {
  atMs: Infinity,
  lowDeciC: Infinity,
  highDeciC: -Infinity,
  lack: 'too-few-probes',
  checkId: null,
  logger: null,
};
