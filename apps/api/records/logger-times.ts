import { Temporal } from 'temporal-polyfill';
import { dayMs, hourMs, minuteMs } from '#libs/quantities';
import { type DateForm, type Read, readMoment, shown } from './import-cells.js';

/** What is meant by a time that clocks showed twice: one of the two, or first the one and then the other. */
export const repeatedHours = ['earlier', 'later', 'in-order'] as const;
export type RepeatedHour = (typeof repeatedHours)[number];

export interface ClockSettings {
  /** IANA name. */
  zone: string;
  dateForm: DateForm;
  /** Undefined where nobody decided: then such a time is refused. */
  repeatedHour: RepeatedHour | undefined;
}

/** An instant, and whether clocks showed its local time twice. */
export interface ClockTime {
  atMs: number;
  repeated: boolean;
}

interface LocalDay {
  date: Temporal.PlainDate;
  /** Of its midnight, were it a day of UTC. */
  utcMs: number;
  /** From UTC to the zone, where it is the same all day; null on days on which clocks were changed. */
  offsetMs: number | null;
}

const TIME =
  /^(?<hour>\d{1,2}):(?<minute>\d{2})(?::(?<second>\d{2})(?:\.(?<fraction>\d{1,9}))?)?(?: ?(?<half>[AP])M)?(?<offset>Z|[+-]\d{2}:?\d{2})?$/i;

const fault = (text: string): { ok: false; fault: string } => ({ ok: false, fault: text });

/**
 * Reads the local times of a logger. The calendar is asked once a day of the file and not once a line, of which there may be half
 * a million; on days on which clocks were changed it is asked for every line.
 */
export class LoggerClock {
  private readonly days = new Map<string, Read<LocalDay>>();

  constructor(private readonly settings: ClockSettings) {}

  /** `previousMs` is the reading before of the same probe: by it the two passes of a repeated hour are told apart. */
  read(day: string, time: string, previousMs: number | undefined): Read<ClockTime> {
    const date = this.dayOf(day);
    if (!date.ok) return date;
    const parts = TIME.exec(time)?.groups;
    const ms = parts && timeOfDayMs(parts);
    if (ms === undefined)
      return fault(time === '' ? 'the time of day is missing' : `"${shown(time)}" is no time of day`);
    const { utcMs, offsetMs } = date.value;
    if (parts?.['offset']) return once(utcMs + ms - statedOffsetMs(parts['offset']));
    if (offsetMs !== null) return once(utcMs + ms - offsetMs);
    const local = date.value.date.toPlainDateTime().add({ milliseconds: ms });
    return this.onChangedDay(local, previousMs);
  }

  private dayOf(text: string): Read<LocalDay> {
    const known = this.days.get(text);
    if (known) return known;
    const moment = readMoment(text, this.settings.dateForm, '00:00');
    const read: Read<LocalDay> = moment.ok
      ? { ok: true, value: localDay(moment.value.toPlainDate(), this.settings.zone) }
      : moment;
    this.days.set(text, read);
    return read;
  }

  private onChangedDay(local: Temporal.PlainDateTime, previousMs: number | undefined): Read<ClockTime> {
    const { zone, repeatedHour } = this.settings;
    const [earlier, later] = (['earlier', 'later'] as const).map((disambiguation) =>
      local.toZonedDateTime(zone, { disambiguation }),
    ) as [Temporal.ZonedDateTime, Temporal.ZonedDateTime];
    if (earlier.epochMilliseconds === later.epochMilliseconds) return once(earlier.epochMilliseconds);
    const said = local.toString({ smallestUnit: 'minute' }).replace('T', ' ');
    if (!earlier.toPlainDateTime().equals(local)) {
      return fault(
        `no clock in ${zone} showed ${said}, since they were put forward: is the time zone right?`,
      );
    }
    if (repeatedHour === undefined) {
      return fault(
        `clocks in ${zone} showed ${said} twice, since they were put back: say in repeatedHour which of the two is meant`,
      );
    }
    const passed = previousMs !== undefined && earlier.epochMilliseconds <= previousMs;
    const isLater = repeatedHour === 'later' || (repeatedHour === 'in-order' && passed);
    return { ok: true, value: { atMs: (isLater ? later : earlier).epochMilliseconds, repeated: true } };
  }
}

const once = (atMs: number): Read<ClockTime> => ({ ok: true, value: { atMs, repeated: false } });

function localDay(date: Temporal.PlainDate, zone: string): LocalDay {
  const start = date.toZonedDateTime(zone);
  const end = start.add({ days: 1 }).startOfDay();
  const steady =
    start.offsetNanoseconds === end.offsetNanoseconds &&
    end.epochMilliseconds - start.epochMilliseconds === dayMs;
  const utcMs = date.toZonedDateTime('UTC').epochMilliseconds;
  return { date, utcMs, offsetMs: steady ? start.offsetNanoseconds / 1e6 : null };
}

function timeOfDayMs(parts: Record<string, string | undefined>): number | undefined {
  const [typed, minute, second] = ['hour', 'minute', 'second'].map((part) => Number(parts[part] ?? 0)) as [
    number,
    number,
    number,
  ];
  const half = parts['half']?.toUpperCase();
  if (half && (typed < 1 || typed > 12)) return undefined;
  const hour = half ? (typed % 12) + (half === 'P' ? 12 : 0) : typed;
  if (hour > 23 || minute > 59 || second > 59) return undefined;
  const ms = Math.floor(Number(`0.${parts['fraction'] ?? '0'}`) * 1000);
  return ((hour * 60 + minute) * 60 + second) * 1000 + ms;
}

function statedOffsetMs(offset: string): number {
  if (offset.toUpperCase() === 'Z') return 0;
  const [hours, minutes] = [Number(offset.slice(1, 3)), Number(offset.slice(-2))];
  return (offset.startsWith('-') ? -1 : 1) * (hours * hourMs + minutes * minuteMs);
}
