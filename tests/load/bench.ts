import { additionsFigures } from './additions.js';
import { diversionFigures } from './diversion.js';
import { bulkFigures, intakeFigures } from './intake.js';
import type { Figure } from './measure.js';
import { ingestFigures, seriesFigures } from './loggers.js';
import { mixFigures } from './mix.js';
import { diversionReport } from '../support/diversion-report.js';
import { recordFigures } from './record.js';
import { reportFigures } from './report.js';
import { longRecord } from '../unit/documents/example-variants.js';
import { buildStand, clientOf } from './stand.js';
import { traceFigures } from './trace.js';
import { verdictFigures } from './verdict.js';
import { makeWorld } from './world.js';

const CONNECTIONS = 10;
/** Of four readings each. */
const CHECKS = 500;

async function measure(): Promise<Figure[]> {
  const stand = await buildStand(CONNECTIONS);
  try {
    const client = clientOf(stand.apiPort, 1);
    const world = await makeWorld(client, stand.first);
    await client.close();
    return [
      ...(await intakeFigures(stand, world, CONNECTIONS)),
      ...(await bulkFigures(stand, world)),
      ...(await ingestFigures(stand, world)),
      ...(await seriesFigures(stand, world)),
      ...(await mixFigures(stand, world)),
      ...(await traceFigures(stand, world)),
      ...(await diversionFigures()),
      ...(await verdictFigures()),
      ...(await additionsFigures()),
      ...(await recordFigures(longRecord(CHECKS))),
      ...(await reportFigures(diversionReport())),
    ];
  } finally {
    await stand.stop();
  }
}

function table(figures: readonly Figure[]): string {
  return figures
    .map(({ what, value, unit, baseline, ratio }) => {
      const amount = value >= 100 ? value.toFixed(0) : value.toFixed(2);
      const against = baseline && ratio !== undefined ? `${ratio.toFixed(2)} of ${baseline}` : '';
      return `${what.padEnd(52)} ${amount.padStart(9)} ${unit.padEnd(7)} ${against}`;
    })
    .join('\n');
}

const figures = await measure();
console.log(process.argv.includes('--json') ? JSON.stringify({ figures }, null, 2) : table(figures));
