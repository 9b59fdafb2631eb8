import { hourMs, SiteCalendar } from '../calendar.js';
import type { Caution } from '../facts.js';
import type { Span } from '../verdict.js';
import { sayCount, sayTemperature } from '../words.js';
import { type LoggerHours, type Probe, type ProbeHour, probesOf, readingsOf, spanOf } from './hours.js';
import { runsOf, saySpan } from './stretches.js';

/**
 * Our own choice: a probe that shows tenths of a degree is doubted when it stays on one of them for 24 hours with
 * readings, since a live pile gains or loses more than that in a day. A coarser probe may stay on its step for as many
 * times longer as its step is wider, so that a pile at steady state under a coarse probe is not doubted.
 */
export const stuckHoursATenth = 24;
/** Our own choice: half as long is enough where another probe of the same logger moved by 2 °C meanwhile. */
export const stuckHoursBesideOthers = 12;
export const othersMovedDeciC = 20;

/** Where the readings do not tell the step: half a degree, a coarse sensor (common practice). */
export const unknownStepDeciC = 5;
const COARSEST_STEP_DECI_C = 10;
/** So many different figures must be there before the smallest distance between two is taken for the step. */
const FIGURES_TO_TELL = 5;
const LONGEST_SILENCE_MS = 24 * hourMs;

/** Probes that stayed on one figure for longer than a pile does. */
export function stuckCautions(loggers: readonly LoggerHours[], timeZone: string): Caution[] {
  const calendar = new SiteCalendar(timeZone);
  return loggers.flatMap((logger) => {
    const probes = probesOf(logger);
    const steps = probes.map(({ hours }) => stepOf(hours));
    const seen = steps.filter((step) => step !== null);
    const usual = seen.length > 0 ? Math.min(...seen) : unknownStepDeciC;
    return probes.flatMap((probe, index) =>
      flatRuns(probe).flatMap((run) => {
        const stuck = stuckOf(run, steps[index] ?? usual, probes);
        return stuck ? cautionOf(logger.logger, run, stuck, calendar) : [];
      }),
    );
  });
}

/** The smallest change a probe was seen to show; null where it showed too few figures to tell. */
function stepOf(hours: readonly ProbeHour[]): number | null {
  const figures = [...new Set(hours.flatMap(({ minDeciC, maxDeciC }) => [minDeciC, maxDeciC]))];
  if (figures.length < FIGURES_TO_TELL) return null;
  figures.sort((a, b) => a - b);
  const steps = figures.slice(1).map((figure, index) => figure - (figures[index] ?? figure));
  return Math.min(COARSEST_STEP_DECI_C, ...steps);
}

const isFlat = ({ minDeciC, maxDeciC }: ProbeHour): boolean => minDeciC === maxDeciC;

function flatRuns({ hours }: Probe): ProbeHour[][] {
  const runs = runsOf(
    hours,
    (a, b) => isFlat(a) && isFlat(b) && a.minDeciC === b.minDeciC && b.atMs - a.atMs <= LONGEST_SILENCE_MS,
  );
  return runs.filter((run) => run.length >= stuckHoursBesideOthers && run.every(isFlat));
}

interface Stuck {
  readonly stepDeciC: number;
  /** How far another probe moved meanwhile; 0 where that did not decide. */
  readonly othersDeciC: number;
}

function stuckOf(run: readonly ProbeHour[], stepDeciC: number, probes: readonly Probe[]): Stuck | null {
  if (run.length >= stuckHoursATenth * stepDeciC) return { stepDeciC, othersDeciC: 0 };
  if (run.length < stuckHoursBesideOthers * stepDeciC) return null;
  const span = spanOf(run);
  const othersDeciC = Math.max(...probes.map(({ hours }) => rangeIn(hours, span)));
  return othersDeciC >= othersMovedDeciC ? { stepDeciC, othersDeciC } : null;
}

function rangeIn(hours: readonly ProbeHour[], { fromMs, toMs }: Span): number {
  let low = Infinity;
  let high = -Infinity;
  for (const { atMs, minDeciC, maxDeciC } of hours) {
    if (atMs < fromMs || atMs >= toMs) continue;
    low = Math.min(low, minDeciC);
    high = Math.max(high, maxDeciC);
  }
  return high - low;
}

function cautionOf(
  logger: string,
  run: readonly ProbeHour[],
  { stepDeciC, othersDeciC }: Stuck,
  calendar: SiteCalendar,
): Caution {
  const span = spanOf(run);
  const beside = othersDeciC > 0;
  const hours = (beside ? stuckHoursBesideOthers : stuckHoursATenth) * stepDeciC;
  const others = beside ? `, while another probe moved by ${othersDeciC / 10} °C` : '';
  const text =
    `${logger}, probe ${run[0]?.probe ?? ''}, ${saySpan(span, calendar)}: ${sayTemperature(run[0]?.minDeciC ?? 0)} in all of ` +
    `${sayCount(readingsOf(run), 'reading')}${others}. A probe with steps of ${stepDeciC / 10} °C is doubted here after ` +
    `${hours} such hours (our own choice): it may be stuck. Look at the probe and its cable.`;
  return { kind: 'stuck', ...span, instrument: logger, text };
}
