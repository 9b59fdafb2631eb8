import { v7 } from 'uuid';
import { type GoodCall, of } from './good-calls.js';
import { type GoodWorld, kg, litres } from './good-world.js';

/** Good calls of how big a batch is, in every shape, and of what lies at its yard. */
export function pileCalls({ tokens, building, pile, yard }: GoodWorld): GoodCall[] {
  const [operator, manager] = [of(tokens.operator), of(tokens.manager)];
  const { id } = building;
  const ft = (value: number) => ({ value, unit: 'ft' });
  const entry = () => ({
    id: v7(),
    occurredAt: new Date(Date.now() - 3_600_000).toISOString(),
    note: 'Grün',
  });
  const measured = (sizes: object): GoodCall =>
    operator.post('/batches/:id/pile-measurements', { id }, { ...entry(), height: ft(4), ...sizes });
  const bucket = { full: kg(11), empty: kg(1), volume: litres(20) };
  const flat = { length: ft(10), width: ft(8), topWidth: ft(3) };
  const others = ['/circumference', '/topWidth', '/length', '/width'];
  return [
    operator.get('/batches/:id/pile-measurements', { id }),
    { ...operator.get('/sites/:id/on-hand', { id: yard.yard.id }), query: { on: '2026-03-04' } },
    { ...measured({ shape: 'bin', length: ft(5), width: ft(5), density: bucket }), toldElsewhere: others },
    { ...measured({ shape: 'flat-topped-windrow', ...flat }), toldElsewhere: others },
    { ...measured({ shape: 'cone', circumference: ft(20) }), toldElsewhere: others },
    manager.post(
      '/batches/:id/pile-measurements/:measurementId/void',
      { id, measurementId: pile.id },
      { reason: 'Measured the wrong pile' },
    ),
  ];
}
