import { wholeMs } from '../calendar.js';
import { lacks, type LoggerSeries, type ProbeReading } from '../facts.js';
import { inOrder, momentOf, type Moment } from './moments.js';
import { probeTermsOf, type ProbeTerms } from './terms.js';

/** One value of one probe of a logger. */
export interface LoggerReading extends ProbeReading {
  readonly atMs: number;
}

/**
 * A logger's readings, in any order, as a rule looks at them: what its probes show at one instant is looked at as one
 * check. All readings are held while this works; of millions it is better made where they are kept.
 */
export function seriesOf(logger: string, readings: Iterable<LoggerReading>, rule: ProbeTerms): LoggerSeries {
  const terms = probeTermsOf(rule);
  const moments: Moment[] = [];
  for (const [atMs, probes] of byInstant(readings)) {
    moments.push(momentOf({ id: logger, occurredAtMs: atMs, readings: probes }, terms));
  }
  return {
    logger,
    atMs: Float64Array.from(moments, ({ atMs }) => atMs),
    lowDeciC: Float64Array.from(moments, ({ lowDeciC }) => lowDeciC),
    highDeciC: Float64Array.from(moments, ({ highDeciC }) => highDeciC),
    enough: Uint8Array.from(moments, ({ lack }) => (lack === null ? 1 : 0)),
    lack: Uint8Array.from(moments, ({ lack }) => (lack === null ? 0 : lacks.indexOf(lack))),
  };
}

function* byInstant(readings: Iterable<LoggerReading>): Generator<[atMs: number, probes: LoggerReading[]]> {
  let atMs = NaN;
  let probes: LoggerReading[] = [];
  for (const reading of inOrder([...readings])) {
    const readAtMs = wholeMs(reading.atMs);
    if (readAtMs !== atMs && probes.length > 0) {
      yield [atMs, probes];
      probes = [];
    }
    atMs = readAtMs;
    probes.push(reading);
  }
  if (probes.length > 0) yield [atMs, probes];
}
