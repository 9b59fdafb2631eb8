import type { Actor } from '../access/actor.js';
import { Problem } from '../problems/catalogue.js';
import type { SqlWrite, Work } from './work.js';

interface Once {
  /** True when it is kept already; refuses when something else is kept in its place. */
  sentBefore(): Promise<boolean>;
  /**
   * What is looked up and refused before a connection is taken for the transaction. The write it gives back answers
   * false when somebody sent the same meanwhile.
   */
  prepare(): Promise<(write: SqlWrite) => Promise<boolean>>;
}

class SentMeanwhile extends Error {}

/** Writes once what may be sent many times, even at the same moment. True when it had been sent before. */
export async function writeOnce(work: Pick<Work, 'writeSql'>, actor: Actor, once: Once): Promise<boolean> {
  if (await once.sentBefore()) return true;
  const insert = await once.prepare();
  try {
    await work.writeSql(actor, async (write) => {
      if (!(await insert(write))) throw new SentMeanwhile();
    });
    return false;
  } catch (error) {
    if (error instanceof SentMeanwhile && (await once.sentBefore())) return true;
    throw error;
  }
}

/** A record that a void marks. */
export interface Voidable {
  voidedAt: Date | null;
  voidReason: string | null;
}

/** True when it was voided with this very reason, as a void sent twice is; refuses (409) any other second void. */
export function voidedBefore({ voidedAt, voidReason }: Voidable, reason: string): boolean {
  if (voidedAt === null) return false;
  if (voidReason !== reason) throw new Problem('conflict', 'It was voided before, for another reason.');
  return true;
}
