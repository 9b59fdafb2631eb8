import { Injectable } from '@nestjs/common';
import type { Actor } from '../http/access/actor.js';
import type { Problem } from '../http/problems/catalogue.js';
import type { SqlWrite } from '../http/writes/work.js';
import { EntriesService } from './entries.service.js';
import type { NewLot } from './lot.js';
import { LotWritesRecords } from './lot-writes.records.js';
import { isRefused } from './outcome.js';

export type { NewLot, Warning } from './lot.js';

/** A line of a file that makes a lot. Its key tells it from every other line, and knows it in a second import. */
export interface ImportLine {
  lot: NewLot;
  importKey: Buffer;
}

const hex = (key: Buffer) => key.toString('hex');

/** Historic drop-offs from files. */
@Injectable()
export class ImportIntakeService {
  constructor(
    private readonly entries: EntriesService,
    private readonly writes: LotWritesRecords,
  ) {}

  /**
   * What each item would become: a lot with its warnings, or why not. The items have the form of a single drop-off's
   * body; nothing is kept. No lot is called late, since all are.
   */
  async judge(actor: Actor, items: readonly unknown[]): Promise<(NewLot | Problem)[]> {
    const entries = await this.entries.judge(actor, items, null);
    return entries.map((entry) => (isRefused(entry) ? entry : entry.judged));
  }

  /** Which lines are kept already, as hexadecimal keys. */
  async known(siteId: string, importKeys: readonly Buffer[]): Promise<Set<string>> {
    return this.writes.keptLines(siteId, importKeys.map(hex));
  }

  /**
   * Keeps the lines that are not kept yet, each with its audit line, in the transaction that is under way; the row of
   * the import must be there. Answers the ids of the lots that are new.
   */
  async insert(write: SqlWrite, importId: string, lines: readonly ImportLine[]): Promise<Set<string>> {
    const lots = lines.map(({ lot, importKey }) => ({ ...lot, importId, importKey: hex(importKey) }));
    const kept = await this.writes.keepIn(write.sql, write.actor, lots);
    return new Set(kept.map(({ id }) => id));
  }
}
