import { Injectable, Logger, type OnApplicationBootstrap, type OnModuleDestroy } from '@nestjs/common';
import { minuteMs } from '#libs/quantities';
import { AuditRecords } from './audit.records.js';

const EVERY_MS = 10 * minuteMs;

/** Seals the audit trail from time to time, in every process; the database lets one do it at a time. */
@Injectable()
export class AuditSealing implements OnApplicationBootstrap, OnModuleDestroy {
  private readonly log = new Logger('Audit');
  private timer: NodeJS.Timeout | undefined;

  constructor(private readonly records: AuditRecords) {}

  onApplicationBootstrap(): void {
    this.timer = setInterval(() => void this.seal(), EVERY_MS).unref();
  }

  onModuleDestroy(): void {
    clearInterval(this.timer);
  }

  /** How many seals were made. A failure is told and left to the next time: unsealed events are kept all the same. */
  async seal(): Promise<number> {
    try {
      return (await this.records.sealAlone(await this.records.settledSeq())).length;
    } catch (error) {
      this.log.warn(`the audit trail was not sealed: ${String(error)}`);
      return 0;
    }
  }
}
