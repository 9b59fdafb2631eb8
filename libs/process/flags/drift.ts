import { type LocalDay, SiteCalendar } from '../calendar.js';
import type { Caution } from '../facts.js';
import { type LoggerHours, type Probe, probesOf } from './hours.js';
import { runsOf } from './stretches.js';

/**
 * Our own choice, both: for so many days with readings the daily mean lay each day further from the middle of the other
 * probes than the day before, and by so much in all. An uneven pile may do that too: so the caution says what to compare,
 * not that the probe is off.
 */
export const driftDays = 7;
export const driftDeciC = 50;
/** With one fellow alone nobody can tell which of the two is off. */
const FELLOWS = 2;

/** Probes that go away from their fellows, day by day. */
export function driftCautions(loggers: readonly LoggerHours[], timeZone: string): Caution[] {
  const calendar = new SiteCalendar(timeZone);
  return loggers.flatMap((logger) => {
    const probes = probesOf(logger).map((probe) => ({ ...probe, days: dailyMeans(probe, calendar) }));
    return probes.flatMap((probe) => {
      const fellows = probes.filter((other) => other !== probe);
      const ways = waysOff(
        probe.days,
        fellows.map(({ days }) => days),
      );
      return leavings(ways).map((run) => cautionOf(logger.logger, probe.name, run, calendar));
    });
  });
}

/** Means by local day, keyed by where the day begins. */
type DailyMeans = ReadonlyMap<number, { readonly day: LocalDay; readonly meanDeciC: number }>;

function dailyMeans({ hours }: Probe, calendar: SiteCalendar): DailyMeans {
  const sums = new Map<number, { day: LocalDay; sum: number; readings: number }>();
  let day: LocalDay | null = null;
  for (const { atMs, readings, meanDeciC } of hours) {
    if (day === null || atMs >= day.endMs) day = calendar.dayOf(atMs);
    const kept = sums.get(day.startMs) ?? { day, sum: 0, readings: 0 };
    sums.set(day.startMs, { day, sum: kept.sum + meanDeciC * readings, readings: kept.readings + readings });
  }
  return new Map(
    [...sums].map(([startMs, { day, sum, readings }]) => [startMs, { day, meanDeciC: sum / readings }]),
  );
}

/** How far a probe's day lay from the median of its fellows': above 0 where it was hotter. */
interface Way {
  readonly day: LocalDay;
  readonly offDeciC: number;
}

function waysOff(days: DailyMeans, fellows: readonly DailyMeans[]): Way[] {
  return [...days.entries()].flatMap(([startMs, { day, meanDeciC }]) => {
    const others = fellows.flatMap((other) => other.get(startMs)?.meanDeciC ?? []);
    return others.length < FELLOWS ? [] : [{ day, offDeciC: meanDeciC - middleOf(others, meanDeciC) }];
  });
}

/**
 * The median; of an even number the one of the two in the middle that is nearer to the probe. Their mean would make a
 * good probe of three seem to leave a fellow that drifts.
 */
function middleOf(figures: readonly number[], probe: number): number {
  const sorted = figures.toSorted((a, b) => a - b);
  const middle = (sorted.length - 1) / 2;
  const [low, high] = [sorted[Math.floor(middle)] ?? 0, sorted[Math.ceil(middle)] ?? 0];
  return probe - low < high - probe ? low : high;
}

/** Runs of days each further off, to the same side, than the day before. */
function leavings(ways: readonly Way[]): Way[][] {
  const runs = [1, -1].flatMap((side) =>
    runsOf(ways, (a, b) => a.offDeciC * side >= 0 && b.offDeciC * side > a.offDeciC * side),
  );
  return runs.filter((run) => run.length >= driftDays && grownDeciC(run) >= driftDeciC);
}

function grownDeciC(run: readonly Way[]): number {
  return Math.abs(run.at(-1)?.offDeciC ?? 0) - Math.abs(run[0]?.offDeciC ?? 0);
}

function cautionOf(logger: string, probe: string, run: readonly Way[], calendar: SiteCalendar): Caution {
  const fromMs = run[0]?.day.startMs ?? 0;
  const toMs = run.at(-1)?.day.endMs ?? fromMs;
  const side = (run.at(-1)?.offDeciC ?? 0) > 0 ? 'above' : 'below';
  const [first, last] = [run[0], run.at(-1)].map((way) => tenths(Math.abs(way?.offDeciC ?? 0)));
  const text =
    `${logger}, probe ${probe}, ${calendar.sayDay(fromMs)} to ${calendar.sayDay(toMs - 1)}: its daily mean went from ${first} to ${last} °C ` +
    `${side} the middle of the other probes, further on each of ${run.length} days. ${driftDays} such days and ` +
    `${driftDeciC / 10} °C are doubted here (our own choice): it may drift. Compare it with another thermometer.`;
  return { kind: 'drift', fromMs, toMs, instrument: logger, text };
}

const tenths = (deciC: number): string => (deciC / 10).toFixed(1);
