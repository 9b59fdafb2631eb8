import { Injectable } from '@nestjs/common';
import type { Actor } from '../http/access/actor.js';
import { Clock } from '../http/clock.js';
import { localDay } from '../http/dto/time.js';
import { Problem } from '../http/problems/catalogue.js';
import { SiteFactsService } from '../sites/site-facts.service.js';
import { ShiftsRecords } from './shifts.records.js';

interface Recorded {
  siteId: string;
  shiftId: string | null;
  /** Null when somebody else has had a hand in it since. */
  recordedBy: string | null;
  recordedAt: Date;
}

/** Who may take back what was recorded at a hub. */
@Injectable()
export class UndoService {
  constructor(
    private readonly shifts: ShiftsRecords,
    private readonly sites: SiteFactsService,
    private readonly clock: Clock,
  ) {}

  /**
   * A manager always. Whoever recorded it may undo that while its shift is open or, without a shift, until the local day
   * on which it was recorded is over: a slip noticed at the scale needs nobody else.
   */
  async requireMayVoid(actor: Actor, record: Recorded): Promise<void> {
    if (actor.mayAt('manager', record.siteId)) return;
    if (record.recordedBy === actor.personId && (await this.isFresh(record))) return;
    throw new Problem(
      'not-allowed',
      'One’s own is undone while its shift is open or, without a shift, on the day it was recorded; later by a manager.',
    );
  }

  private async isFresh({ siteId, shiftId, recordedAt }: Recorded): Promise<boolean> {
    if (shiftId) return (await this.shifts.facts([shiftId])).get(shiftId)?.closedAt === null;
    const { timeZone } = await this.sites.site(siteId);
    return localDay(recordedAt.getTime(), timeZone) === localDay(this.clock.nowMs(), timeZone);
  }
}
