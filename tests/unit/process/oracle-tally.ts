import type { ProcessRule, RuleReading } from '#libs/process';
import { reaches } from './oracle-checks.js';

/** One box of the squared paper, a minute of the batch. `cleft`: nothing is credited here, and what ran is over. */
export type Box = 'hot' | 'bridged' | 'cleft';

/** What a clerk keeps count of while walking along the boxes, in minutes. */
export class Tally {
  credited = 0;
  turns = 0;
  lastTurn = -Infinity;
  metAt: number | null = null;
  /** The first run torn off that lacked only what a later record of water or of the mix could still show. */
  private waiting: { credited: number; turns: number } | null = null;
  private watered = false;
  /** Water was measured while what is counted ran. */
  measured = false;
  private atPeak = 0;
  private longestPeak = 0;
  /** At each minute of the stretch, how far the sum of its temperatures lies above what the average asks. */
  private surplus: number[] = [0];
  private leastSurplus = Infinity;
  private averaged = false;

  constructor(
    private readonly rule: ProcessRule,
    private readonly reading: RuleReading,
    private readonly known: { readonly mixed: boolean; readonly foundDry: boolean },
  ) {}

  /** What stands at the end. */
  standing(): { credited: number; turns: number } {
    return (this.metAt === null && this.awaits() ? this.waiting : null) ?? this;
  }

  /** A fresh sheet: what was counted so far is lost, unless the run may yet be found to have met the rule. */
  tearOff(): void {
    this.awaits();
    [this.credited, this.turns, this.lastTurn] = [0, 0, -Infinity];
    [this.atPeak, this.longestPeak, this.averaged] = [0, 0, false];
    [this.watered, this.measured] = [false, false];
  }

  pass(box: Box | undefined, deciC: number): void {
    if (box === 'hot') this.credited += 1;
    this.passPeak(box, deciC);
    this.passAverage(box, deciC);
  }

  turn(minute: number): void {
    const { turns } = this.rule;
    if (turns === null || minute - this.lastTurn < turns.spacingHours * 60) return;
    this.turns += 1;
    this.lastTurn = minute;
  }

  water(): void {
    this.watered = true;
  }

  /** Notes the first minute at which everything the rule asks for is there. */
  look(minute: number): void {
    const wetEnough = this.rule.moisture === null || this.watered;
    if (this.hotEnough() && wetEnough && this.known.mixed) this.metAt ??= minute;
  }

  /** Whether time, turns, peak and average are there. */
  private hotEnough(): boolean {
    const { turns, peak, average } = this.rule;
    return (
      this.credited >= this.needed &&
      this.turns >= (turns?.count ?? 0) &&
      (peak === null || this.longestPeak >= peak.hours * 60) &&
      (average === null || this.averaged)
    );
  }

  private awaits(): boolean {
    const mayBeWet = this.rule.moisture === null || this.watered || !(this.measured || this.known.foundDry);
    if (this.reading === 'consecutive' && this.hotEnough() && mayBeWet) {
      this.waiting ??= { credited: this.credited, turns: this.turns };
    }
    return this.waiting !== null;
  }

  /** Hours at the peak are added up where the rule's time is; otherwise they are unbroken as well. */
  private passPeak(box: Box | undefined, deciC: number): void {
    const { peak } = this.rule;
    if (peak === null) return;
    if (box === 'hot' && reaches(deciC, peak.thresholdDeciC, peak.strict)) this.atPeak += 1;
    else if (this.reading === 'consecutive') this.atPeak = 0;
    this.longestPeak = Math.max(this.longestPeak, this.atPeak);
  }

  /** The mean is that of one unbroken stretch, however the time is counted; what a turn excused cools it. */
  private passAverage(box: Box | undefined, deciC: number): void {
    const { average } = this.rule;
    if (average === null) return;
    const inside = box === 'hot' || (box === 'bridged' && deciC > -Infinity);
    if (!inside) {
      [this.surplus, this.leastSurplus] = [[0], Infinity];
      return;
    }
    this.surplus.push((this.surplus.at(-1) ?? NaN) + deciC - average.thresholdDeciC);
    const start = this.surplus.length - 1 - this.needed;
    if (start < 0) return;
    this.leastSurplus = Math.min(this.leastSurplus, this.surplus[start] ?? NaN);
    const gained = (this.surplus.at(-1) ?? NaN) - this.leastSurplus;
    if (average.strict ? gained > 0 : gained >= 0) this.averaged = true;
  }

  private get needed(): number {
    const { duration } = this.rule;
    return 'hours' in duration ? duration.hours * 60 : duration.days * 1440;
  }
}
