import type { Readable } from 'node:stream';
import { Injectable } from '@nestjs/common';
import { csvStream } from '#libs/documents';
import type { Actor } from '../http/access/actor.js';
import { requirePeriod } from '../http/dto/period.js';
import { Problem } from '../http/problems/catalogue.js';
import { TableStreams } from '../http/table-streams.js';
import { SiteFactsService } from '../sites/site-facts.service.js';
import { dropOffColumns } from './drop-off-columns.js';
import type { ExportQuery } from './exports.dto.js';
import { ExportsRecords } from './exports.records.js';

@Injectable()
export class ExportsService {
  constructor(
    private readonly records: ExportsRecords,
    private readonly sites: SiteFactsService,
    private readonly tables: TableStreams,
  ) {}

  /** Drop-offs as CSV, read and sent piece by piece. Void ones are left out. */
  async dropOffs(actor: Actor, { siteId, from, to }: ExportQuery): Promise<Readable> {
    requirePeriod(from, to);
    if (siteId !== undefined) await this.requireSite(actor, siteId);
    const siteIds = siteId === undefined ? actor.sitesFor('manager') : [siteId];
    const filter = { siteIds, from: from ?? null, to: to ?? null };
    return this.tables.stream((use) =>
      this.records.lots(filter, (lots) => use(csvStream(dropOffColumns, lots))),
    );
  }

  private async requireSite(actor: Actor, siteId: string): Promise<void> {
    await this.sites.site(siteId);
    if (!actor.mayAt('manager', siteId.toLowerCase())) throw new Problem('other-site');
  }
}
