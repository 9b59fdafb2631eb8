import { Injectable } from '@nestjs/common';
import { Database } from '#libs/database';

/** Overs that went from one batch into another. */
export interface OversLink {
  /** 1 for this batch's own overs, 2 for those of the batches next to it, and so on. */
  steps: number;
  giverId: string;
  giverCode: string;
  takerId: string;
  takerCode: string;
  massG: number;
  firstAt: Date;
  lastAt: Date;
}

// The links of one step are found from those of the step before; DISTINCT ones only, so that ways that part and meet
// again do not multiply.
const links = (near: 'from_batch_id' | 'batch_id', far: 'from_batch_id' | 'batch_id') => `
  WITH RECURSIVE link (steps, giver_id, taker_id) AS (
    SELECT 1, from_batch_id, batch_id FROM amendment
    WHERE ${near} = $1 AND from_batch_id IS NOT NULL AND voided_at IS NULL
    UNION
    SELECT link.steps + 1, a.from_batch_id, a.batch_id
    FROM link JOIN amendment a ON a.${near} = ${far === 'batch_id' ? 'link.taker_id' : 'link.giver_id'}
    WHERE link.steps < $2 AND a.from_batch_id IS NOT NULL AND a.voided_at IS NULL
  ), nearest AS (
    SELECT min(steps) AS steps, giver_id, taker_id FROM link GROUP BY giver_id, taker_id
  )
  SELECT n.steps, n.giver_id AS "giverId", giver.code AS "giverCode", n.taker_id AS "takerId", taker.code AS "takerCode",
    sum(a.mass_g)::bigint AS "massG", min(a.occurred_at) AS "firstAt", max(a.occurred_at) AS "lastAt"
  FROM nearest n
  JOIN amendment a ON a.from_batch_id = n.giver_id AND a.batch_id = n.taker_id AND a.voided_at IS NULL
  JOIN batch giver ON giver.id = n.giver_id JOIN batch taker ON taker.id = n.taker_id
  GROUP BY n.steps, n.giver_id, giver.code, n.taker_id, taker.code
  ORDER BY n.steps, min(a.occurred_at), n.giver_id, n.taker_id`;

const BEFORE = links('batch_id', 'from_batch_id');
const AFTER = links('from_batch_id', 'batch_id');

@Injectable()
export class LineageRecords {
  constructor(private readonly database: Database) {}

  /** Links that led into the batch, at most so many steps back. */
  async before(batchId: string, steps: number): Promise<OversLink[]> {
    return this.database.sql.query<OversLink>(BEFORE, [batchId, steps], 'overs-before');
  }

  /** Links that lead out of it, at most so many steps on. */
  async after(batchId: string, steps: number): Promise<OversLink[]> {
    return this.database.sql.query<OversLink>(AFTER, [batchId, steps], 'overs-after');
  }
}
