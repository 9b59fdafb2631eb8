import { kgOf, massToG } from '#libs/quantities';
import type { Actor } from '../http/access/actor.js';
import { idOr } from '../http/dto/id.js';
import { CLOCKS_APART_MS } from '../http/dto/time.js';
import { invalid, Problem } from '../http/problems/catalogue.js';
import type { AssignmentItemDto } from './assignments.dto.js';
import type { AssignmentRow, Lot } from './assignments.records.js';

/** One item as asked for; without a mass it takes all that is left. */
export interface Item {
  id: string;
  dropOffId: string;
  massG: number | null;
}

export function itemsOf(dtos: readonly AssignmentItemDto[]): Item[] {
  const lots = new Set<string>();
  return dtos.map((dto, index) => {
    const dropOffId = dto.dropOffId.toLowerCase();
    if (lots.has(dropOffId)) throw invalid(`/items/${index}/dropOffId`, 'is named twice');
    lots.add(dropOffId);
    const massG = dto.mass ? massToG(dto.mass) : null;
    if (massG === 0) throw invalid(`/items/${index}/mass`, 'must be more than nothing');
    return { id: idOr(dto.id), dropOffId, massG };
  });
}

/** Items that are not kept yet. Refuses (409) an id that is kept for something else. */
export function stillToAssign(
  items: readonly Item[],
  kept: readonly AssignmentRow[],
  batchId: string,
): Item[] {
  const rows = new Map(kept.map((row) => [row.id, row]));
  return items.filter(({ id, dropOffId, massG }) => {
    const row = rows.get(id);
    if (!row) return true;
    const same = row.batchId === batchId && row.dropOffId === dropOffId && (massG ?? row.massG) === row.massG;
    if (!same) throw new Problem('other-body');
    return false;
  });
}

/** What was received at the yard is the yard's to assign; what lies at its hub takes an operator there. */
export function requireLot(
  actor: Actor,
  lot: Lot | undefined,
  { yardId, at }: { yardId: string; at: Date },
  index: number,
): void {
  const pointer = `/items/${index}/dropOffId`;
  if (!lot) throw invalid(pointer, 'is no drop-off');
  const isReceived = lot.receivedAt !== null && lot.toSiteId === yardId;
  if (!isReceived && !actor.mayAt('operator', lot.siteId))
    throw new Problem('other-site', 'You are no operator at the hub of that drop-off.');
  if (lot.haulId !== null && !isReceived) {
    const detail = `is not here: it ${wayOf(lot)}`;
    throw new Problem('drop-off-not-here', `The drop-off ${detail}.`, [{ pointer, detail }]);
  }
  if (lot.receivedAt && lot.receivedAt.getTime() > at.getTime() + CLOCKS_APART_MS)
    throw invalid(pointer, `was received later than this, at ${lot.receivedAt.toISOString()}`);
  if (lot.voided) throw new Problem('drop-off-voided', undefined, [{ pointer, detail: 'is voided' }]);
  if (lot.occurredAt.getTime() > at.getTime() + CLOCKS_APART_MS)
    throw invalid(pointer, `was dropped off later than this, at ${lot.occurredAt.toISOString()}`);
}

function wayOf({ elsewhere, receivedAt }: Lot): string {
  if (elsewhere !== null) return 'is composted by somebody else';
  return receivedAt === null ? 'is on the road, and was not received yet' : 'was received at another yard';
}

export function massWithin(item: Item, lot: Lot | undefined, index: number): number {
  const leftG = lot && !lot.voided ? lot.leftG : 0;
  const massG = item.massG ?? leftG;
  if (massG > 0 && massG <= leftG) return massG;
  const detail = `Only ${kgOf(leftG)} kg of this drop-off are left to assign.`;
  throw new Problem('beyond-what-is-left', detail, [{ pointer: `/items/${index}`, detail }]);
}
