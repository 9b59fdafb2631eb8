import { Injectable } from '@nestjs/common';
import { Database } from '#libs/database';

export const linkKinds = ['overs', 'merge'] as const;

/** What went from one batch into another: overs, or all that lay there. */
export interface BatchLink {
  kind: (typeof linkKinds)[number];
  /** 1 for what this batch itself gave or took, 2 for the batches next to it, and so on. */
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
const links = (near: 'giver' | 'taker', far: 'giver' | 'taker') => `
  WITH RECURSIVE link (steps, giver_id, taker_id) AS (
    SELECT 1, giver_id, taker_id FROM batch_link WHERE ${near}_id = $1
    UNION
    SELECT link.steps + 1, l.giver_id, l.taker_id
    FROM link JOIN batch_link l ON l.${near}_id = link.${far}_id
    WHERE link.steps < $2
  ), nearest AS (
    SELECT min(steps) AS steps, giver_id, taker_id FROM link GROUP BY giver_id, taker_id
  )
  SELECT l.kind, n.steps, n.giver_id AS "giverId", giver.code AS "giverCode", n.taker_id AS "takerId",
    taker.code AS "takerCode", sum(l.mass_g)::bigint AS "massG", min(l.occurred_at) AS "firstAt",
    max(l.occurred_at) AS "lastAt"
  FROM nearest n
  JOIN batch_link l ON l.giver_id = n.giver_id AND l.taker_id = n.taker_id
  JOIN batch giver ON giver.id = n.giver_id JOIN batch taker ON taker.id = n.taker_id
  GROUP BY l.kind, n.steps, n.giver_id, giver.code, n.taker_id, taker.code
  ORDER BY n.steps, min(l.occurred_at), n.giver_id, n.taker_id`;

const BEFORE = links('taker', 'giver');
const AFTER = links('giver', 'taker');

@Injectable()
export class LineageRecords {
  constructor(private readonly database: Database) {}

  /** Links that led into the batch, at most so many steps back. */
  async before(batchId: string, steps: number): Promise<BatchLink[]> {
    return this.database.sql.query<BatchLink>(BEFORE, [batchId, steps], 'links-before');
  }

  /** Links that lead out of it, at most so many steps on. */
  async after(batchId: string, steps: number): Promise<BatchLink[]> {
    return this.database.sql.query<BatchLink>(AFTER, [batchId, steps], 'links-after');
  }
}
