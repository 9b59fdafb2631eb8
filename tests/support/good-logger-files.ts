import { v7 } from 'uuid';
import { type GoodCall, of } from './good-calls.js';
import type { GoodWorld } from './good-world.js';

/** Imports of logger readings, with everything that they may carry. */
export function loggerImportCalls({ tokens, device, loggerImported }: GoodWorld): GoodCall[] {
  const manager = of(tokens.manager);
  const wide = {
    ...{
      fileName: 'card.csv',
      deviceId: device.id,
      bay: device.bays[0],
      unit: 'F',
      dryRun: false,
      leaveOut: [3],
    },
    columns: { day: 'day', time: 'time' },
    probes: [{ name: 'core', position: 'core-1', zone: 'core', depth: { value: 18, unit: 'in' } }],
    ...{ timeZone: 'America/Denver', repeatedHour: 'in-order', dateForm: 'month-day-year', decimalMark: ',' },
    ...{ delimiter: ';', noReading: ['---'] },
  };
  const csv = 'day;time;core\n3/5/2026;1:00 PM;140,9\n3/5/2026;1:01 PM;Ω\n3/5/2026;1:02 PM;---\n';
  const csvBase64 = Buffer.from(csv).toString('base64');
  return [
    { ...manager.post('/logger-imports', {}, { id: v7(), ...wide, csv }), toldElsewhere: ['/csv'] },
    { ...manager.post('/logger-imports', {}, { id: v7(), ...wide, csvBase64 }), toldElsewhere: ['/csv'] },
    manager.get('/logger-imports'),
    manager.get('/logger-imports/:id', { id: loggerImported.id }),
  ];
}
