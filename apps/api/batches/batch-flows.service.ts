import { Injectable } from '@nestjs/common';
import { kgOf } from '#libs/quantities';
import type { RawAddition } from '#libs/process';
import type { SqlWrite } from '../http/writes/work.js';
import { BatchesService } from './batches.service.js';
import { type AdditionLine, FlowsRecords, type LatestRecord } from './flows.records.js';

type Sql = SqlWrite['sql'];

export interface BayMove {
  occurredAtMs: number;
  fromBay: string;
  toBay: string;
  /** Id of the stay it began. */
  id: string;
}

export type { LatestRecord };

/** What went into a batch and where it was carried, as the verdict needs it. */
@Injectable()
export class BatchFlowsService {
  constructor(
    private readonly flows: FlowsRecords,
    private readonly batches: BatchesService,
  ) {}

  /**
   * Everything that went in but water, what went in at one moment in one sentence, in order of time. Overs and finished
   * compost count as raw: nothing says here that they had met a rule.
   */
  async rawAdditions(batchId: string, sql?: Sql): Promise<RawAddition[]> {
    const together = new Map<number, string[]>();
    for (const line of await this.flows.additions(batchId, sql)) {
      const atMs = line.occurredAt.getTime();
      together.set(atMs, [...(together.get(atMs) ?? []), wordsOf(line)]);
    }
    return [...together].map(([occurredAtMs, words]) => ({ occurredAtMs, what: words.join(', ') }));
  }

  /** The last thing that somebody recorded of a batch as done to it or found in it; null when there is none. */
  async lastRecord(batchId: string, sql?: Sql): Promise<LatestRecord | null> {
    const [last] = await this.flows.latest(batchId, sql);
    return last ?? null;
  }

  /** When a logger last told anything of it that was not set aside; null when none did. */
  lastTold(batchId: string, sql?: Sql): Promise<Date | null> {
    return this.flows.lastTold(batchId, sql);
  }

  /** The last thing that went in, water in amendments included; null when there is none. */
  async lastInput(batchId: string, sql?: Sql): Promise<LatestRecord | null> {
    return (await this.flows.latest(batchId, sql)).find(({ isInput }) => isInput) ?? null;
  }

  /** Moves from bay to bay, in order of time. Each is also a turn. */
  async moves(batchId: string, sql?: Sql): Promise<BayMove[]> {
    const stays = await this.batches.staysOf(batchId, sql);
    return stays.flatMap((stay, index) => {
      const before = stays[index - 1];
      if (!before) return [];
      const { id, fromAt, bayCode } = stay;
      return [{ id, occurredAtMs: fromAt.getTime(), fromBay: before.bayCode, toBay: bayCode }];
    });
  }
}

function wordsOf({ materialCode, source, fromCode, movements, massG }: AdditionLine): string {
  const amount = `${materialCode} ${kgOf(massG)} kg`;
  if (source === 'stock') return `${amount} from stock`;
  if (source === 'overs') return `${amount} of overs${fromCode === null ? '' : ` of ${fromCode}`}`;
  return `${amount} (${movements} ${movements === 1 ? 'drop-off' : 'drop-offs'})`;
}
