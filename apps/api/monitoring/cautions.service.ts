import { Injectable } from '@nestjs/common';
import {
  type Caution,
  type Check,
  disagreementCautions,
  driftCautions,
  implausibleCautions,
  overdueCautions,
  stuckCautions,
} from '#libs/process';
import type { SqlWrite } from '../http/writes/work.js';
import { LoggerDoubtsService } from '../loggers/logger-doubts.service.js';
import { CautionsRecords } from './cautions.records.js';

export interface DoubtedFacts {
  batchId: string;
  timeZone: string;
  /** Those that stand. */
  checks: readonly Check[];
  /** What happened later is left out. */
  asOfMs: number;
}

/** What speaks against the readings of a batch. They are used all the same; a verdict, its gate and the record say so. */
@Injectable()
export class CautionsService {
  constructor(
    private readonly records: CautionsRecords,
    private readonly loggers: LoggerDoubtsService,
  ) {}

  async cautionsOf(facts: DoubtedFacts, sql?: SqlWrite['sql']): Promise<Caution[]> {
    const { batchId, timeZone, asOfMs } = facts;
    const checks = facts.checks.filter(({ occurredAtMs }) => occurredAtMs <= asOfMs);
    const used = await this.records.used(batchId, new Date(asOfMs), sql);
    const checkedAtMs = checks.map(({ occurredAtMs }) => occurredAtMs);
    const { hours, beside, instruments } = await this.loggers.ofBatch(batchId, checkedAtMs, asOfMs, sql);
    return [
      ...overdueCautions([...used, ...instruments], timeZone),
      ...stuckCautions(hours, timeZone),
      ...driftCautions(hours, timeZone),
      ...disagreementCautions(beside, checks, timeZone),
      ...implausibleCautions(hours, checks, timeZone),
    ];
  }
}
