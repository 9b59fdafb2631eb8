import type { Temporal } from 'temporal-polyfill';
import { ambientC, at } from './calendar.js';
import { newId } from './client.js';
import { type Course, moistureFelt, odourOf, readings } from './pile.js';
import { finishBatch } from './finish.js';
import type { Random } from './random.js';
import { CURE_DAYS, type Pile, type Yard } from './story.js';

const ACTIVE_DAYS = 30;
const TURN_DAYS = new Set([4, 7, 10, 13, 16, 20]);
const DAYS_TO_GIVE_UP = 60;

/** Which of a yard's batches, in order, goes another way than well. */
export type Troubles = Partial<Record<number, Course>>;

/** A yard day by day: feeds the open batch, looks after the hot ones, cures, tests, releases. */
export class YardStoryTeller {
  private readonly piles: Pile[] = [];
  private built = 0;

  constructor(
    private readonly yard: Yard,
    private readonly troubles: Troubles,
    private readonly random: Random,
  ) {}

  /** How much of the hubs' material must be pulled right now: one batch came from a bad season of bags. */
  get rejectShare(): number {
    return this.open?.course === 'contaminated' ? 0.5 : 0.04;
  }

  async live(day: Temporal.PlainDate): Promise<void> {
    if (!this.open) await this.begin(day);
    if (day.dayOfWeek === 7 && this.open) await this.feed(this.open, day);
    for (const pile of this.piles) {
      if (pile.stage === 'building') await this.mayClose(pile, day);
      else if (pile.stage === 'active') await this.tend(pile, day);
      else if (pile.stage === 'curing') await this.cure(pile, day);
    }
  }

  private get open(): Pile | undefined {
    return this.piles.find((pile) => pile.stage === 'building');
  }

  private async begin(day: Temporal.PlainDate): Promise<void> {
    const taken = new Set(this.piles.filter((pile) => pile.stage !== 'gone').map((pile) => pile.bay));
    const bay = this.yard.bays.find((code) => !taken.has(code));
    if (!bay) return;
    this.built += 1;
    const { id, code } = await this.yard.manager.post<{ id: string; code: string }>('/batches', {
      id: newId(),
      siteId: this.yard.id,
      bay,
      method: this.yard.method,
      occurredAt: at(day, 7, 30),
    });
    const course = this.troubles[this.built] ?? 'good';
    this.piles.push({ id, code, bay, course, stage: 'building', since: day });
  }

  /** Everything the hubs have brought goes in, with chips and leaves over it. */
  private async feed(pile: Pile, day: Temporal.PlainDate): Promise<void> {
    await this.yard.manager.post(`/batches/${pile.id}/assignments`, {
      occurredAt: at(day, 19),
      allUnassigned: { siteIds: this.yard.hubIds, upTo: at(day, 18, 30) },
    });
    const usual = this.yard.hubs.length * 0.07;
    const browns = pile.course === 'never-heats' ? usual * 12 : usual;
    for (const [material, share] of [
      ['wood-chips', 1],
      ['leaves', 1.2],
    ] as const) {
      await this.yard.manager.post(`/batches/${pile.id}/amendments`, {
        id: newId(),
        material,
        volume: { value: Number((browns * share * this.random.between(0.8, 1.2)).toFixed(2)), unit: 'yd3' },
        from: 'stock',
        occurredAt: at(day, 19, 10),
      });
    }
  }

  private async mayClose(pile: Pile, day: Temporal.PlainDate): Promise<void> {
    if (day.dayOfWeek !== 7 || pile.since.until(day).days < this.yard.buildDays) return;
    await this.moveOn(pile, 'active', day, 19);
  }

  private async tend(pile: Pile, day: Temporal.PlainDate): Promise<void> {
    const age = pile.since.until(day).days;
    if (pile.course === 'never-heats' && age >= DAYS_TO_GIVE_UP) return this.giveUp(pile, day);
    if (age === 0) return;
    if (age <= ACTIVE_DAYS || day.dayOfWeek === 3) await this.check(pile, day, age);
    if (this.yard.turns && TURN_DAYS.has(age) && pile.course !== 'never-heats') await this.turn(pile, day);
    if (age >= ACTIVE_DAYS && pile.course !== 'never-heats') await this.moveOn(pile, 'curing', day, 16);
  }

  private async check(pile: Pile, day: Temporal.PlainDate, age: number): Promise<void> {
    const air = ambientC(day);
    const moisture = moistureFelt(pile.course, age, this.random);
    await this.yard.crew.post(`/batches/${pile.id}/checks`, {
      id: newId(),
      occurredAt: at(day, 8, this.random.whole(0, 25)),
      readings: readings(pile.course, age, air, this.random).map((reading) => ({
        ...reading,
        instrumentId: this.yard.probeId,
      })),
      moisture,
      odour: odourOf(pile.course, age, this.random),
      ambient: { value: Math.round(air * 1.8 + 32), unit: 'F' },
    });
    if (moisture === 'dry' && this.random.chance(0.6)) {
      const volume = { value: this.random.pick([10, 15, 20]), unit: 'gal' };
      await this.yard.crew.post(`/batches/${pile.id}/waterings`, {
        id: newId(),
        occurredAt: at(day, 9, 30),
        volume,
      });
    }
  }

  private async turn(pile: Pile, day: Temporal.PlainDate): Promise<void> {
    await this.yard.crew.post(`/batches/${pile.id}/turns`, { id: newId(), occurredAt: at(day, 10) });
  }

  private async cure(pile: Pile, day: Temporal.PlainDate): Promise<void> {
    const age = pile.since.until(day).days;
    if (day.dayOfWeek === 3) await this.check(pile, day, ACTIVE_DAYS + age);
    if (age < CURE_DAYS + 5 || day.dayOfWeek !== 6 || pile.course === 'interrupted') return;
    await finishBatch(this.yard, pile, day, this.random);
    pile.stage = 'gone';
  }

  private async giveUp(pile: Pile, day: Temporal.PlainDate): Promise<void> {
    await this.yard.manager.post(`/batches/${pile.id}/stage`, {
      to: 'condemned',
      reason: 'Never came near 55 °C: far too many browns, and dry. Taken apart and started again.',
      occurredAt: at(day, 16),
    });
    pile.stage = 'gone';
  }

  private async moveOn(
    pile: Pile,
    to: 'active' | 'curing',
    day: Temporal.PlainDate,
    hour: number,
  ): Promise<void> {
    await this.yard.manager.post(`/batches/${pile.id}/stage`, { to, occurredAt: at(day, hour, 30) });
    pile.stage = to;
    pile.since = day;
  }
}
