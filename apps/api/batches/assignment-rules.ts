import { kgOf, massToG, minuteMs } from '#libs/quantities';
import type { Actor } from '../http/access/actor.js';
import { idOr } from '../http/dto/id.js';
import { invalid, Problem } from '../http/problems/catalogue.js';
import type { AssignmentItemDto } from './assignments.dto.js';
import type { AssignmentRow, Lot } from './assignments.records.js';

/** One item as asked for; without a mass it takes all that is left. */
export interface Item {
  id: string;
  dropOffId: string;
  massG: number | null;
}

/** A hub's clock may be as far from the yard's as two devices may be from ours. */
export const CLOCKS_APART_MS = 10 * minuteMs;

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

export function requireLot(actor: Actor, lot: Lot | undefined, at: Date, index: number): void {
  const pointer = `/items/${index}/dropOffId`;
  if (!lot) throw invalid(pointer, 'is no drop-off');
  if (!actor.mayAt('operator', lot.siteId))
    throw new Problem('other-site', 'You are no operator at the hub of that drop-off.');
  if (lot.voided) throw new Problem('drop-off-voided', undefined, [{ pointer, detail: 'is voided' }]);
  if (lot.occurredAt.getTime() > at.getTime() + CLOCKS_APART_MS)
    throw invalid(pointer, `was dropped off later than this, at ${lot.occurredAt.toISOString()}`);
}

export function massWithin(item: Item, lot: Lot | undefined, index: number): number {
  const leftG = lot && !lot.voided ? lot.leftG : 0;
  const massG = item.massG ?? leftG;
  if (massG > 0 && massG <= leftG) return massG;
  const detail = `Only ${kgOf(leftG)} kg of this drop-off are left to assign.`;
  throw new Problem('beyond-what-is-left', detail, [{ pointer: `/items/${index}`, detail }]);
}
