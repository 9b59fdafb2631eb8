import { Injectable } from '@nestjs/common';
import { Database, type Sql } from '#libs/database';
import type { InputKind, OutputKind } from '#libs/accounting';

/** All movements of one kind and label, in or out of a batch. */
export type FlowLine = {
  /** Material code, or kind of output. */
  label: string;
  movements: number;
  massG: number;
  /** Part of it that was on no scale: estimated from a volume or, of a batch merged unweighed, worked out of its records. */
  estimatedG: number;
  /** Part of it that was weighed with a whole haul, and shared back to its lots. */
  sharedG: number;
} & ({ direction: 'in'; kind: InputKind } | { direction: 'out'; kind: OutputKind });

/** What screening gave of compost, and when it was done last. */
export interface Screened {
  lastAt: Date | null;
  compostG: number;
  /** Of the screenings of which mass and volume are known. */
  measuredG: number;
  measuredMl: number;
}

/** What went in at one moment of one material from one source. */
export interface AdditionLine {
  occurredAt: Date;
  materialCode: string;
  source: 'drop-off' | 'stock' | 'overs';
  /** Of the batch that gave the overs. */
  fromCode: string | null;
  movements: number;
  massG: number;
}

/** The latest record of one kind that stands. */
export interface LatestRecord {
  /** In words, "a check". */
  what: string;
  /** Something that went into the batch; water that was given to it is none. */
  isInput: boolean;
  at: Date;
}

const LINES = `
  SELECT direction, kind, label, count(*)::int AS movements, sum(mass_g)::bigint AS "massG",
    coalesce(sum(mass_g) FILTER (WHERE basis IN ('volume', 'records')), 0)::bigint AS "estimatedG",
    coalesce(sum(mass_g) FILTER (WHERE basis = 'haul'), 0)::bigint AS "sharedG"
  FROM batch_flow WHERE batch_id = $1
  GROUP BY direction, kind, label ORDER BY direction, kind, label`;

const SCREENED = `
  SELECT max(occurred_at) AS "lastAt", coalesce(sum(compost_g), 0)::bigint AS "compostG",
    coalesce(sum(compost_g) FILTER (WHERE compost_volume_ml IS NOT NULL), 0)::bigint AS "measuredG",
    coalesce(sum(compost_volume_ml), 0)::bigint AS "measuredMl"
  FROM screening WHERE batch_id = $1 AND voided_at IS NULL`;

// Without its column of sums the view costs one look-up a lot.
const ADDITIONS = `
  SELECT a.occurred_at AS "occurredAt", lot.material_code AS "materialCode", 'drop-off' AS source, NULL AS "fromCode",
    count(*)::int AS movements, sum(a.mass_g)::bigint AS "massG"
  FROM assignment a JOIN drop_off_now lot ON lot.drop_off_id = a.drop_off_id
  WHERE a.batch_id = $1 AND a.voided_at IS NULL GROUP BY a.occurred_at, lot.material_code
  UNION ALL
  SELECT a.occurred_at, a.material_code, a.source, giver.code, count(*)::int, sum(a.mass_g)::bigint
  FROM amendment a LEFT JOIN batch giver ON giver.id = a.from_batch_id
  WHERE a.batch_id = $1 AND a.voided_at IS NULL AND a.source <> 'water'
  GROUP BY a.occurred_at, a.material_code, a.source, giver.code
  ORDER BY 1, 3, 2, 4`;

const LAST_TOLD = `SELECT logger_latest($1) AS at`;

const LATEST = `SELECT what, is_input AS "isInput", at FROM batch_latest($1) ORDER BY at DESC, what`;

@Injectable()
export class FlowsRecords {
  constructor(private readonly database: Database) {}

  async lines(batchId: string, sql: Sql = this.database.sql): Promise<FlowLine[]> {
    return sql.query<FlowLine>(LINES, [batchId], 'batch-flow-lines');
  }

  async screened(batchId: string, sql: Sql = this.database.sql): Promise<Screened> {
    const [row] = await sql.query<Screened>(SCREENED, [batchId], 'batch-screened');
    return row ?? { lastAt: null, compostG: 0, measuredG: 0, measuredMl: 0 };
  }

  /** In order of time; water left out. */
  async additions(batchId: string, sql: Sql = this.database.sql): Promise<AdditionLine[]> {
    return sql.query<AdditionLine>(ADDITIONS, [batchId], 'batch-additions');
  }

  /** The latest of each kind of record, the latest of all first. */
  async latest(batchId: string, sql: Sql = this.database.sql): Promise<LatestRecord[]> {
    return sql.query<LatestRecord>(LATEST, [batchId], 'batch-latest');
  }

  /** When a logger last told of it; what was set aside left out. */
  async lastTold(batchId: string, sql: Sql = this.database.sql): Promise<Date | null> {
    const [row] = await sql.query<{ at: Date | null }>(LAST_TOLD, [batchId], 'batch-last-told');
    return row?.at ?? null;
  }
}
