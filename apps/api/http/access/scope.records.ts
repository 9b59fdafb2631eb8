import { Injectable } from '@nestjs/common';
import { Database } from '#libs/database';
import type { OwnedKind } from './access.js';

const tableOf: Record<OwnedKind, string> = {
  batch: 'batch',
  complaint: 'complaint',
  container: 'container',
  'device-key': 'device',
  distribution:
    '(SELECT d.id, b.site_id FROM distribution d JOIN batch b ON b.id = d.batch_id) AS handed_out',
  'drop-off': 'drop_off',
  haul: 'haul',
  // The same at the yard that it goes to, and at its hub where no yard is to receive it.
  'incoming-haul': '(SELECT id, coalesce(to_site_id, site_id) AS site_id FROM haul) AS incoming',
  instrument: 'instrument',
  'material-measurement': 'material_measurement',
  permit: 'permit',
  recipe: 'recipe',
  refusal: 'refusal',
  shift: 'shift',
  'stock-count': 'stock_count',
};

@Injectable()
export class ScopeRecords {
  constructor(private readonly database: Database) {}

  /** Site of a thing; null when there is no such thing. */
  async siteOf(kind: OwnedKind, id: string): Promise<string | null> {
    const table = tableOf[kind];
    const [row] = await this.database.sql.query<{ siteId: string }>(
      `SELECT site_id AS "siteId" FROM ${table} WHERE id = $1`,
      [id],
      `site-of-${kind}`,
    );
    return row?.siteId ?? null;
  }

  /** To which jurisdiction a report was issued; null when there is no such report. */
  async jurisdictionOf(reportId: string): Promise<string | null> {
    const [row] = await this.database.sql.query<{ jurisdictionId: string }>(
      'SELECT jurisdiction_id AS "jurisdictionId" FROM diversion_report WHERE id = $1',
      [reportId],
      'jurisdiction-of-report',
    );
    return row?.jurisdictionId ?? null;
  }
}
