import { PassThrough, type Readable } from 'node:stream';
import { pipeline } from 'node:stream/promises';
import { Injectable } from '@nestjs/common';
import { csvStream } from '#libs/documents';
import { minuteMs } from '#libs/quantities';
import type { Actor } from '../http/access/actor.js';
import { requirePeriod } from '../http/dto/period.js';
import { Problem } from '../http/problems/catalogue.js';
import { SiteFactsService } from '../sites/site-facts.service.js';
import { dropOffColumns } from './drop-off-columns.js';
import type { ExportQuery } from './exports.dto.js';
import { type ExportFilter, ExportsRecords } from './exports.records.js';

/** A reader this slow is gone: its connection to the database is somebody else's. */
const LONGEST_MS = 15 * minuteMs;

/** As many of a process's connections are for readers of tables, who may be slow; the others are for everybody. */
const AT_ONCE = 2;

@Injectable()
export class ExportsService {
  private running = 0;

  constructor(
    private readonly records: ExportsRecords,
    private readonly sites: SiteFactsService,
  ) {}

  /** Drop-offs as CSV, read and sent piece by piece. Void ones are left out. */
  async dropOffs(actor: Actor, { siteId, from, to }: ExportQuery): Promise<Readable> {
    requirePeriod(from, to);
    if (siteId !== undefined) await this.requireSite(actor, siteId);
    const siteIds = siteId === undefined ? actor.sitesFor('manager') : [siteId];
    return this.stream({ siteIds, from: from ?? null, to: to ?? null });
  }

  private async requireSite(actor: Actor, siteId: string): Promise<void> {
    await this.sites.site(siteId);
    if (!actor.mayAt('manager', siteId.toLowerCase())) throw new Problem('other-site');
  }

  private stream(filter: ExportFilter): Readable {
    if (this.running >= AT_ONCE) throw new Problem('too-many', 'Other tables are being read: wait a little.');
    this.running += 1;
    const out = new PassThrough();
    const signal = AbortSignal.timeout(LONGEST_MS);
    this.records
      .lots(filter, (lots) => pipeline(csvStream(dropOffColumns, lots), out, { signal }))
      // What was sent already cannot be taken back: the reader sees the connection break, not a shorter table.
      .catch((error: unknown) => out.destroy(error instanceof Error ? error : new Error(String(error))))
      .finally(() => (this.running -= 1));
    return out;
  }
}
