import type { Temporal } from 'temporal-polyfill';
import { ambientC, ZONE } from './calendar.js';
import { type Caller, DemoError } from './client.js';
import { coreC } from './pile.js';
import type { Random } from './random.js';
import type { Pile, Yard } from './story.js';

const EVERY_MINUTES = 30;
const MINUTES_A_DAY = 24 * 60;
/** A check by hand is at eight, and shows the age of the pile in whole days. */
const CHECK_AT_MINUTE = 8 * 60;

const PROBES = [
  { position: 'core-1', zone: 'core', depthCm: 90, offC: 2 },
  { position: 'core-2', zone: 'core', depthCm: 60, offC: 1 },
  { position: 'edge-1', zone: 'edge', depthCm: 45, offC: -1 },
  { position: 'edge-2', zone: 'edge', depthCm: 45, offC: -1.5 },
] as const;

/** A cable comes loose for a day and a half: this probe goes on telling what it told last. */
const STUCK = { position: 'edge-2', fromAge: 5, toAge: 6.5 } as const;

/** A logger with four probes, in the bay of one pile from the day on which that was closed. */
export class PileLogger {
  private readonly told = new Map<string, number>();

  private constructor(
    private readonly device: Caller,
    private readonly pile: Pile,
    private readonly random: Random,
  ) {}

  /** The manager makes the key; the logger sends with it from then on. */
  static async install(yard: Yard, pile: Pile, random: Random): Promise<PileLogger> {
    const { key } = await yard.manager.post<{ key: string }>('/device-keys', {
      siteId: yard.id,
      code: 'L-1',
      name: 'Four probes on the fence post',
      bays: [pile.bay],
      ...(yard.loggerId ? { instrumentId: yard.loggerId } : {}),
    });
    return new PileLogger(yard.manager.withKey(key), pile, random);
  }

  /** Sends what the probes showed on one local day. */
  async send(day: Temporal.PlainDate, age: number): Promise<void> {
    // Elapsed, so that no instant is told twice or left out when clocks change: a day may have 23 hours or 25.
    const midnight = day.toZonedDateTime({ timeZone: ZONE });
    const instants = (midnight.hoursInDay * 60) / EVERY_MINUTES;
    const readings = Array.from({ length: instants }, (_, index) =>
      this.readAt(midnight.add({ minutes: index * EVERY_MINUTES }), age),
    );
    const sent = { readings: readings.flat() };
    const { refused } = await this.device.post<{ refused: unknown[] }>('/logger-readings', sent);
    if (refused.length > 0) throw new DemoError(`readings were refused: ${JSON.stringify(refused[0])}`);
  }

  private readAt(when: Temporal.ZonedDateTime, dayAge: number): object[] {
    const age = dayAge + (when.hour * 60 + when.minute - CHECK_AT_MINUTE) / MINUTES_A_DAY;
    const core = coreC(this.pile.course, age, ambientC(when.toPlainDate()));
    const occurredAt = when.toInstant().toString();
    return PROBES.map(({ position, zone, depthCm, offC }) => ({
      ...{ bay: this.pile.bay, position, zone, occurredAt },
      depth: { value: depthCm, unit: 'cm' },
      temperature: { value: this.shown(position, age, core + offC), unit: 'C' },
    }));
  }

  private shown(position: string, age: number, celsius: number): number {
    const last = this.told.get(position);
    const isStuck = position === STUCK.position && age >= STUCK.fromAge && age < STUCK.toAge;
    if (isStuck && last !== undefined) return last;
    const wave = 1.2 * Math.sin(2 * Math.PI * age) + this.random.normal(0, 0.15);
    const value = Number((celsius + wave).toFixed(1));
    this.told.set(position, value);
    return value;
  }
}
