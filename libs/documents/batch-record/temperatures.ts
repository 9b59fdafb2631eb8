import { temperatureChart, type TemperatureChart } from '../chart/chart.js';
import type { BatchRecord, LoggerHours } from './record.js';

/** Where no rule names a gap: between readings this far apart a whole day went by unread. */
const UNREAD_DAY_HOURS = 48;

export interface Temperatures {
  chart: TemperatureChart;
  /** Readings further apart than this are not joined. */
  breakAfterHours: number;
  /** The first and the last reading, of a check or of an hour of a logger. */
  from: string;
  to: string;
}

/** A logger is drawn as two lines: what its coldest and its hottest probe showed in each hour. */
const asChecks = ({ logger, hours }: LoggerHours) =>
  hours.map(({ at, lowestC, highestC }) => ({
    occurredAt: at,
    readings: [
      { position: `${logger} lowest`, temperatureC: lowestC },
      { position: `${logger} highest`, temperatureC: highestC },
    ],
  }));

/** The chart of a record's temperatures, the same on paper and on a screen. Null when nothing was read. */
export function temperaturesOf(
  { verdict, checks, loggers, actions, site }: BatchRecord,
  plot: { width: number; height: number },
): Temperatures | null {
  const read = [...checks, ...loggers.flatMap(asChecks)];
  const breakAfterHours = verdict?.required.longestGapHours ?? UNREAD_DAY_HOURS;
  const chart = temperatureChart({
    width: plot.width,
    height: plot.height,
    timeZone: site.timeZone,
    checks: read,
    thresholdC: verdict?.required.thresholdC ?? null,
    breakAfterHours,
    turns: actions
      .filter(({ kind }) => kind === 'turn' || kind === 'move')
      .map(({ occurredAt }) => occurredAt),
    creditedSpans: verdict?.creditedSpans ?? [],
    marks: [
      { at: verdict?.clockStartedAt, label: 'clock starts' },
      { at: verdict?.metAt, label: 'criteria met' },
    ].flatMap(({ at, label }) => (at ? [{ at, label }] : [])),
  });
  const times = read
    .flatMap(({ occurredAt, readings }) => (readings.length === 0 ? [] : occurredAt))
    .toSorted((a, b) => Date.parse(a) - Date.parse(b));
  const [from, to] = [times[0], times.at(-1)];
  return chart && from && to ? { chart, breakAfterHours, from, to } : null;
}
