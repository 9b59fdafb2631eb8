import { minuteMs } from '#libs/quantities';
import { SiteCalendar } from '../calendar.js';
import type { Caution, Check } from '../facts.js';
import { sayCount } from '../words.js';
import { inOrderOf, runsOf, saySpan } from './stretches.js';

/**
 * Our own choice. Places of a pile differ by far more, so a logger is held against the whole range of a check; where
 * both name the same position, against that position alone.
 */
export const disagreementDeciC = 50;
/** A pile changes little in half an hour (common practice). */
export const besideMs = 30 * minuteMs;

/** A reading of a logger near a check. */
export interface ReadingBeside {
  readonly atMs: number;
  readonly position: string;
  readonly temperatureDeciC: number;
}

export interface LoggerBeside {
  readonly logger: string;
  readonly readings: readonly ReadingBeside[];
}

/** A logger against the hand checks of the same batch within {@link besideMs}; one caution a run of checks that disagree. */
export function disagreementCautions(
  loggers: readonly LoggerBeside[],
  checks: readonly Check[],
  timeZone: string,
): Caution[] {
  const calendar = new SiteCalendar(timeZone);
  const inOrder = inOrderOf(checks, ({ occurredAtMs }) => occurredAtMs);
  return loggers.flatMap(({ logger, readings }) => {
    const beside = windowOver(readings);
    const compared = inOrder.flatMap((check) => {
      const apart = apartDeciC(check, beside(check.occurredAtMs));
      return apart === null
        ? []
        : [{ atMs: check.occurredAtMs, apart, off: Math.abs(apart) > disagreementDeciC }];
    });
    return runsOf(compared, (a, b) => a.off && b.off)
      .filter(([first]) => first?.off)
      .map((run) => cautionOf(logger, run, calendar));
  });
}

/** What was read beside an instant; to be asked in order of time, so that a long series is gone through once. */
function windowOver(readings: readonly ReadingBeside[]): (atMs: number) => readonly ReadingBeside[] {
  const sorted = inOrderOf(readings, ({ atMs }) => atMs);
  let [from, to] = [0, 0];
  return (atMs) => {
    while ((sorted[from]?.atMs ?? Infinity) < atMs - besideMs) from += 1;
    while ((sorted[to]?.atMs ?? Infinity) <= atMs + besideMs) to += 1;
    return sorted.slice(from, to);
  };
}

/**
 * How far the logger lies above (below 0: under) what the hand found: the distance between their ranges, the largest of
 * those at the positions that both name. Null where there is nothing to compare.
 */
function apartDeciC({ readings }: Check, logged: readonly ReadingBeside[]): number | null {
  if (logged.length === 0 || readings.length === 0) return null;
  const atSame = readings.flatMap((reading) => {
    const same = logged.filter(({ position }) => position === reading.position);
    return same.length > 0 ? [distance(rangeOf(same), rangeOf([reading]))] : [];
  });
  if (atSame.length === 0) return distance(rangeOf(logged), rangeOf(readings));
  return atSame.reduce((most, one) => (Math.abs(one) > Math.abs(most) ? one : most), 0);
}

interface Range {
  readonly low: number;
  readonly high: number;
}

function rangeOf(readings: readonly { temperatureDeciC: number }[]): Range {
  const figures = readings.map(({ temperatureDeciC }) => temperatureDeciC);
  return { low: Math.min(...figures), high: Math.max(...figures) };
}

function distance(of: Range, from: Range): number {
  if (of.low > from.high) return of.low - from.high;
  return of.high < from.low ? of.high - from.low : 0;
}

function cautionOf(
  logger: string,
  run: readonly { atMs: number; apart: number }[],
  calendar: SiteCalendar,
): Caution {
  const fromMs = run[0]?.atMs ?? 0;
  const toMs = run.at(-1)?.atMs ?? fromMs;
  const most = run.reduce((worst, { apart }) => (Math.abs(apart) > Math.abs(worst) ? apart : worst), 0);
  const text =
    `${logger}, ${saySpan({ fromMs, toMs }, calendar)}: ${sayCount(run.length, 'check')} by hand within ${besideMs / minuteMs} minutes, ` +
    `${run.length === 1 ? '' : 'all '}more than ${disagreementDeciC / 10} °C away (our own choice); the logger showed up to ${Math.abs(most) / 10} °C ` +
    `${most > 0 ? 'more' : 'less'} than the hand found. Find out which of the two is off.`;
  return { kind: 'disagreement', fromMs, toMs, instrument: logger, text };
}
