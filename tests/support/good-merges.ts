import { v7 } from 'uuid';
import { type GoodCall, of } from './good-calls.js';
import { type GoodWorld, kg } from './good-world.js';

/** Calls about batches that are put together. */
export function mergeCalls({ tokens, building, toMerge }: GoodWorld): GoodCall[] {
  const [operator, manager] = [of(tokens.operator), of(tokens.manager)];
  const { id } = building;
  const metres = (value: number) => ({ value, unit: 'm' });
  const size = { shape: 'bin', length: metres(1), width: metres(1), height: metres(0.1) };
  const density = { full: kg(6), empty: kg(1), volume: { value: 10, unit: 'L' } };
  const said = () => ({ id: v7(), occurredAt: new Date().toISOString(), note: 'Beide geschrumpft' });
  const [weighed, measured] = toMerge;
  return [
    operator.get('/batches/:id/merges', { id }),
    manager.post('/batches/:id/merges', { id }, { ...said(), fromBatchId: weighed.id, mass: kg(20) }),
    manager.post(
      '/batches/:id/merges',
      { id },
      { ...said(), fromBatchId: measured.id, pile: { ...size, density } },
    ),
  ];
}
