import { dayMs, wholeMs } from '../calendar.js';
import type { LoggerSeries } from '../facts.js';
import type { ObservedCheck } from '../observed.js';

/**
 * What loggers show, as few visits: of each logger the latest instant, and the hottest of every 24 hours back from it. Give
 * series that look at each probe by itself. Nobody felt or smelt anything at them.
 */
export function loggerVisits(series: readonly LoggerSeries[], nowMs: number): ObservedCheck[] {
  return series.flatMap((each) => rowsOf(each, wholeMs(nowMs)).map((row) => visitOf(each, row)));
}

/** Rows worth a visit; what says nothing, or comes later than now, is passed over. */
function rowsOf({ atMs, highDeciC }: LoggerSeries, nowMs: number): number[] {
  let latest = -1;
  atMs.forEach((ms, row) => {
    const says = ms <= nowMs && Number.isFinite(highDeciC[row]);
    if (says && ms >= (atMs[latest] ?? -Infinity)) latest = row;
  });
  const lastMs = atMs[latest];
  if (lastMs === undefined) return [];
  const hottest = new Map<number, number>();
  atMs.forEach((ms, row) => {
    const high = highDeciC[row] ?? -Infinity;
    if (ms > lastMs || !Number.isFinite(high)) return;
    const day = Math.floor((lastMs - ms) / dayMs);
    if (high > (highDeciC[hottest.get(day) ?? -1] ?? -Infinity)) hottest.set(day, row);
  });
  return [...new Set([latest, ...hottest.values()])];
}

function visitOf({ logger, atMs, lowDeciC, highDeciC }: LoggerSeries, row: number): ObservedCheck {
  const [low, high] = [lowDeciC[row] ?? Infinity, highDeciC[row] ?? -Infinity];
  const probe = (name: string, deciC: number) => ({
    ...{ position: name, depthMm: null, temperatureDeciC: Math.round(deciC) },
  });
  return {
    id: `${logger}-${atMs[row] ?? 0}`,
    logger,
    occurredAtMs: atMs[row] ?? 0,
    readings:
      low < high
        ? [probe(`${logger} hottest`, high), probe(`${logger} coldest`, low)]
        : [probe(logger, high)],
    ...{ moisture: null, moisturePercent: null, odour: null, oxygenPercent: null, ambientDeciC: null },
    ...{ signs: null, texture: null, inputsVisible: null },
  };
}
