import type { Temporal } from 'temporal-polyfill';
import { beginPile, feed } from './building.js';
import { at } from './calendar.js';
import { newId } from './client.js';
import { fateOf } from './fates.js';
import { finishBatch } from './finish.js';
import { PileLogger } from './logger.js';
import type { Random } from './random.js';
import { turn, visit } from './round.js';
import { takeSamples } from './samples.js';
import { measureBuilt, measureShrunk } from './sizes.js';
import { CURE_DAYS, type Pile, type Yard } from './story.js';

const ACTIVE_DAYS = 30;
const TURN_DAYS = new Set([4, 7, 10, 13, 16, 20]);
/** Turned once more in the cure, to see whether it reheats. */
const CURE_TURN_DAY = 9;
const DAYS_TO_GIVE_UP = 60;
/** Loads go in on Sundays. */
const FIRST_LOAD_BY_DAY = 7;
const WEDNESDAY = 3;
const SATURDAY = 6;
const SUNDAY = 7;

/** A yard day by day: feeds the open batch, looks after the hot ones, cures, tests, releases. */
export class YardStoryTeller {
  private readonly piles: Pile[] = [];
  private readonly loggers = new Map<Pile, PileLogger>();
  private built = 0;
  private complained = false;

  constructor(
    private readonly yard: Yard,
    private readonly last: Temporal.PlainDate,
    private readonly random: Random,
    /** Of its own, so that fetching and measuring change nothing of the story. */
    private readonly sizes: Random,
  ) {}

  /** How much of the hubs' material must be pulled right now: one batch came from a bad season of bags. */
  get rejectShare(): number {
    return this.open?.course === 'contaminated' ? 0.5 : 0.04;
  }

  async live(day: Temporal.PlainDate): Promise<void> {
    if (!this.open) await this.begin(day);
    if (day.dayOfWeek === SUNDAY && this.open)
      await feed(this.yard, this.open, day, { cover: this.random, hauls: this.sizes });
    for (const pile of this.piles) {
      if (pile.stage === 'building') await this.build(pile, day);
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
    const fate = fateOf(this.yard.code, this.built, day, this.last);
    this.piles.push(await beginPile(this.yard, bay, day, fate));
  }

  private async build(pile: Pile, day: Temporal.PlainDate): Promise<void> {
    const age = pile.since.until(day).days;
    const smells = pile.course === 'ammonia' && age > FIRST_LOAD_BY_DAY;
    if (smells && day.dayOfWeek === WEDNESDAY) {
      await this.visit(pile, day, age);
      await this.complain(day);
    }
    if (day.dayOfWeek !== SUNDAY || age < this.yard.buildDays) return;
    await measureBuilt(this.yard, pile, day, this.sizes);
    await this.moveOn(pile, 'active', day, 19);
    if (pile.logged) this.loggers.set(pile, await PileLogger.install(this.yard, pile, this.random.fork()));
  }

  private async tend(pile: Pile, day: Temporal.PlainDate): Promise<void> {
    const age = pile.since.until(day).days;
    const { course } = pile;
    if (course === 'never-heats' && age >= DAYS_TO_GIVE_UP) return this.giveUp(pile, day);
    if (age === 0) return;
    await this.loggers.get(pile)?.send(day, age);
    const daily = age <= ACTIVE_DAYS || course === 'stalls-dry';
    if (daily || day.dayOfWeek === WEDNESDAY) await this.visit(pile, day, age);
    if (this.isTurned(pile, age)) await turn(this.yard, pile, day);
    const stays = course === 'never-heats' || course === 'stalls-dry';
    if (age < ACTIVE_DAYS || stays) return;
    await this.moveOn(pile, 'curing', day, 16);
    await measureShrunk(this.yard, pile, day, this.sizes);
  }

  /** One that stalls dry was last turned while it was hot: nobody had the time. */
  private isTurned({ course }: Pile, age: number): boolean {
    if (!this.yard.turns || course === 'never-heats' || !TURN_DAYS.has(age)) return false;
    return course !== 'stalls-dry' || age <= 7;
  }

  private visit(pile: Pile, day: Temporal.PlainDate, age: number): Promise<void> {
    return visit(this.yard, pile, day, age, this.random);
  }

  private async cure(pile: Pile, day: Temporal.PlainDate): Promise<void> {
    const cured = pile.since.until(day).days;
    await this.loggers.get(pile)?.send(day, ACTIVE_DAYS + cured);
    if (day.dayOfWeek === WEDNESDAY) await this.visit(pile, day, ACTIVE_DAYS + cured);
    if (this.yard.turns && cured === CURE_TURN_DAY) await turn(this.yard, pile, day);
    await takeSamples(this.yard, pile, day, cured, this.random);
    if (cured < CURE_DAYS + 5 || day.dayOfWeek !== SATURDAY || pile.course === 'interrupted') return;
    await finishBatch(this.yard, pile, day, this.random);
    pile.stage = 'gone';
  }

  private async giveUp(pile: Pile, day: Temporal.PlainDate): Promise<void> {
    await this.yard.manager.post(`/batches/${pile.id}/stage`, {
      to: 'condemned',
      reason: 'Never came near 55 °C: far too many browns, and dry. Taken apart and started again.',
      occurredAt: at(day, 16),
    });
    await this.takeApart(pile, day);
    pile.stage = 'gone';
  }

  /** What was given up is put into the next batch, but for the plastic that came to light. */
  private async takeApart(pile: Pile, day: Temporal.PlainDate): Promise<void> {
    const { inputKg } = await this.yard.manager.get<{ inputKg: number }>(`/batches/${pile.id}/balance`);
    const massKg = Math.floor(inputKg * 0.82);
    await this.yard.manager.post(`/batches/${pile.id}/screenings`, {
      id: newId(),
      occurredAt: at(day, 17),
      overs: { value: massKg, unit: 'kg' },
      residue: { value: 1.4, unit: 'kg' },
      residueWentTo: 'landfill',
    });
    this.yard.overs.push({ batchId: pile.id, massKg });
  }

  /** Somebody across the lane smelled it too. */
  private async complain(day: Temporal.PlainDate): Promise<void> {
    if (this.complained) return;
    this.complained = true;
    const { id } = await this.yard.crew.post('/complaints', {
      id: newId(),
      siteId: this.yard.id,
      occurredAt: at(day, 18, 20),
      kind: 'odour',
      about: 'A smell of ammonia on the lane in the evening',
    });
    await this.yard.crew.post(`/complaints/${id}/actions`, {
      id: newId(),
      occurredAt: at(day, 20),
      done: 'Covered the pile with a hand of chips; the next loads had more browns.',
    });
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
