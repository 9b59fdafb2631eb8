import { Injectable } from '@nestjs/common';
import {
  type Caution,
  type Check,
  disagreementCautions,
  driftCautions,
  implausibleCautions,
  mayBeFire,
  overdueCautions,
  setAsideCautions,
  stuckCautions,
} from '#libs/process';
import type { SqlWrite } from '../http/writes/work.js';
import { LoggerDoubtsService } from '../loggers/logger-doubts.service.js';
import { SetAsideService } from '../loggers/set-aside.service.js';
import { CautionsRecords } from './cautions.records.js';

export interface DoubtedFacts {
  batchId: string;
  timeZone: string;
  /** Those that stand. */
  checks: readonly Check[];
  /** What happened later is left out. */
  asOfMs: number;
}

/**
 * What speaks against the readings of a batch, which are used all the same, and what the yard set aside, which is not. A
 * verdict, its gate and the record say so.
 */
@Injectable()
export class CautionsService {
  constructor(
    private readonly records: CautionsRecords,
    private readonly loggers: LoggerDoubtsService,
    private readonly setAside: SetAsideService,
  ) {}

  /**
   * Heat that loggers showed since `sinceMs`, which only a broken probe shows or a pile that burns. It reads the hours since
   * then alone: a year of eight probes has 70,000, and whoever asks what to do now asks often.
   */
  async fireAlarms(
    { batchId, timeZone, asOfMs }: Omit<DoubtedFacts, 'checks'>,
    sinceMs: number,
  ): Promise<Caution[]> {
    const hours = await this.loggers.hours(batchId, sinceMs, asOfMs);
    return implausibleCautions(hours, [], timeZone).filter(mayBeFire);
  }

  async cautionsOf(facts: DoubtedFacts, sql?: SqlWrite['sql']): Promise<Caution[]> {
    const { batchId, timeZone, asOfMs } = facts;
    const checks = facts.checks.filter(({ occurredAtMs }) => occurredAtMs <= asOfMs);
    const used = await this.records.used(batchId, new Date(asOfMs), sql);
    const checkedAtMs = checks.map(({ occurredAtMs }) => occurredAtMs);
    const { hours, beside, instruments } = await this.loggers.ofBatch(batchId, checkedAtMs, asOfMs, sql);
    const setAside = await this.setAside.ofBatch(batchId, asOfMs, sql);
    return [
      // First, since a gate has room for a few only, and these change what is read.
      ...setAsideCautions(setAside, timeZone),
      ...overdueCautions([...used, ...instruments], timeZone),
      ...stuckCautions(hours, timeZone),
      ...driftCautions(hours, timeZone),
      ...disagreementCautions(beside, checks, timeZone),
      ...implausibleCautions(hours, checks, timeZone),
    ];
  }
}
