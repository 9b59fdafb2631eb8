import { Temporal } from 'temporal-polyfill';
import { hourMs } from '#libs/quantities';

export interface TimeTick {
  x: number;
  /** A local date such as "12 Mar", or a local time such as "06:00" on charts of a few days. */
  label: string;
}

/** Fahrenheit beside Celsius: tens of °C are whole °F. */
export interface TemperatureTick {
  y: number;
  temperatureC: number;
  temperatureF: number;
}

interface TimeAxis {
  from: number;
  to: number;
  width: number;
  timeZone: string;
  xOf: (at: number) => number;
}

const TICK_WIDTH = 46;
const STEP_HOURS = [1, 3, 6, 12, 24, 48, 96, 168, 336, 672, 1344, 2688, 5376, 10_752];
const MONTHS = ['Jan', 'Feb', 'Mar', 'Apr', 'May', 'Jun', 'Jul', 'Aug', 'Sep', 'Oct', 'Nov', 'Dec'];

/** Local midnights (or round local hours), stepping by the wall clock so that summer time moves none of them. */
export function timeTicks({ from, to, width, timeZone, xOf }: TimeAxis): TimeTick[] {
  const room = Math.max(1, Math.floor(width / TICK_WIDTH));
  const wantedHours = (to - from) / hourMs / room;
  const hours = STEP_HOURS.find((step) => step >= wantedHours) ?? STEP_HOURS.at(-1) ?? 24;
  const first = Temporal.Instant.fromEpochMilliseconds(from).toZonedDateTimeISO(timeZone).startOfDay();
  const ticks: TimeTick[] = [];
  for (let step = 0; ; step += 1) {
    const tick =
      hours < 24 ? wallHour(first, step * hours) : first.add({ days: (step * hours) / 24 }).startOfDay();
    if (tick.epochMilliseconds > to) return ticks;
    if (tick.epochMilliseconds >= from) ticks.push({ x: xOf(tick.epochMilliseconds), label: labelOf(tick) });
  }
}

export function temperatureTicks(axis: {
  low: number;
  high: number;
  yOf: (temperatureC: number) => number;
}): TemperatureTick[] {
  const ticks: TemperatureTick[] = [];
  for (let temperatureC = axis.low; temperatureC <= axis.high; temperatureC += 10) {
    ticks.push({ y: axis.yOf(temperatureC), temperatureC, temperatureF: (temperatureC * 9) / 5 + 32 });
  }
  return ticks;
}

function wallHour(first: Temporal.ZonedDateTime, hours: number): Temporal.ZonedDateTime {
  return first.toPlainDateTime().add({ hours }).toZonedDateTime(first.timeZoneId);
}

function labelOf(tick: Temporal.ZonedDateTime): string {
  if (tick.hour === 0 && tick.minute === 0) return `${tick.day} ${MONTHS[tick.month - 1] ?? ''}`;
  return `${String(tick.hour).padStart(2, '0')}:${String(tick.minute).padStart(2, '0')}`;
}
