import { PAGE, STYLE } from '../../pdf/look.js';
import { table } from '../../pdf/table.js';
import { paragraph, section } from '../../pdf/text.js';
import type { Balance } from '../record-release.js';
import { figure, sentence, withUnit } from '../words.js';
import type { Writing } from './page.js';

/** Set narrow, like the slip of a scale: what went in, what came out, what still lies there, what the air took. */
export function massBalance({ sheet, record: { balance } }: Writing): void {
  section(sheet, 'Mass balance', () => {
    if (balance === null) {
      paragraph(sheet, 'No balance has been drawn.');
      return;
    }
    slip(sheet, balance);
    const weighed = `${withUnit(balance.weighedKg, 'kg')} was weighed and ${withUnit(balance.estimatedKg, 'kg')} estimated`;
    paragraph(sheet, `Of what went in, ${weighed}.`);
    if (balance.excessKg !== null) {
      const excess = `More came out than went in, by ${withUnit(balance.excessKg, 'kg')}: something is missing or mistyped.`;
      paragraph(sheet, `${excess} Until that is found there is no process loss to print.`, STYLE.strong);
    }
    if (balance.yieldPercent === null) return;
    const yielded = withUnit(balance.yieldPercent, '%');
    paragraph(sheet, `Yield: ${yielded} of what went in has come out as compost, both as wet mass.`);
  });
}

function slip(sheet: Writing['sheet'], balance: Balance): void {
  table(
    sheet,
    [
      { title: 'In and out', share: 1 },
      { title: 'Of it estimated, kg', align: 'figure', width: 84 },
      { title: 'Mass, kg', align: 'figure', width: 66 },
    ],
    [
      ...balance.inputs.map(({ label, massKg, estimatedKg }) => ({
        cells: [label, figure(estimatedKg), figure(massKg)],
      })),
      { total: true, cells: ['Went in', figure(balance.estimatedKg), figure(balance.inputKg)] },
      ...balance.outputs.map(({ label, massKg }) => ({ cells: [sentence(label), '', figure(massKg)] })),
      { total: true, cells: ['Came out', '', figure(balance.outputKg)] },
      { cells: ['Still here', '', figure(balance.stillHereKg)] },
      { cells: ['Process loss: water and carbon to the air', '', figure(balance.processLossKg)] },
    ],
    { place: { x: PAGE.left, width: 360 } },
  );
}
