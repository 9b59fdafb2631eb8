import { PAGE } from '../../pdf/look.js';
import { table, type Row } from '../../pdf/table.js';
import { paragraph, section } from '../../pdf/text.js';
import type { BalanceLine } from '../record-release.js';
import { figure, withUnit } from '../words.js';
import type { Writing } from './page.js';

/** Set narrow, like the slip of a scale: what went in, what came out, and what the heap kept or breathed away. */
export function massBalance({ sheet, record: { balance } }: Writing): void {
  section(sheet, 'Mass balance', () => {
    if (balance === null) {
      paragraph(sheet, 'No balance has been drawn.');
      return;
    }
    table(
      sheet,
      [
        { title: 'In and out', share: 1 },
        { title: 'Of it estimated, kg', align: 'figure', width: 84 },
        { title: 'Mass, kg', align: 'figure', width: 66 },
      ],
      [
        ...balance.inputs.map(line),
        { total: true, cells: ['Went in', '', figure(balance.inputKg)] },
        ...balance.outputs.map(line),
        { total: true, cells: ['Came out', '', figure(balance.outputKg)] },
        { cells: ['Still here', '', figure(balance.stillHereKg)] },
        {
          cells: ['Process loss: water and carbon gone as vapour and gas', '', figure(balance.processLossKg)],
        },
      ],
      { place: { x: PAGE.left, width: 360 } },
    );
    const yielded = `${withUnit(balance.yieldPercent, '%')} of what went in became finished compost.`;
    if (balance.yieldPercent !== null) paragraph(sheet, `Yield: ${yielded}`);
  });
}

const line = ({ name, massKg, estimatedKg }: BalanceLine): Row => ({
  cells: [name, figure(estimatedKg), figure(massKg)],
});
