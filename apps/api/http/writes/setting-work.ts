import { Injectable } from '@nestjs/common';
import type { Actor } from '../access/actor.js';
import { Problem } from '../problems/catalogue.js';
import { type Write, Work } from './work.js';

/** Which setting a write is about. */
export interface Subject {
  kind: string;
  id: string;
  siteId: string | null;
}

interface Versioned {
  version: number;
}

/** What differs between two views of one setting: the old value lives on in the audit trail only. */
export function differences(before: object, after: object): Record<string, { from: unknown; to: unknown }> {
  const old = before as Record<string, unknown>;
  const changed = Object.entries(after as Record<string, unknown>).filter(
    ([field, value]) => field !== 'version' && JSON.stringify(old[field]) !== JSON.stringify(value),
  );
  return Object.fromEntries(changed.map(([field, to]) => [field, { from: old[field], to }]));
}

/** Adds and changes settings, each in one transaction with its audit line. */
@Injectable()
export class SettingWork {
  constructor(private readonly work: Work) {}

  async add<V extends Versioned>(
    actor: Actor,
    { kind, id, siteId }: Subject,
    insert: (write: Write) => Promise<V>,
  ): Promise<V> {
    return this.work.write(actor, async (write) => {
      const added = await insert(write);
      write.audit({
        action: `${kind}.added`,
        subjectKind: kind,
        subjectId: id,
        siteId,
        detail: { added },
      });
      return added;
    });
  }

  /** `update` changes the row only while it is still at the version of `before`, and answers with the new view. */
  async change<V extends Versioned>(
    actor: Actor,
    { kind, id, siteId }: Subject,
    version: number,
    before: V,
    update: (write: Write) => Promise<V>,
  ): Promise<V> {
    if (before.version !== version) throw new Problem('changed-meanwhile');
    return this.work.write(actor, async (write) => {
      const after = await update(write);
      const detail = differences(before, after);
      write.audit({ action: `${kind}.changed`, subjectKind: kind, subjectId: id, siteId, detail });
      return after;
    });
  }
}
