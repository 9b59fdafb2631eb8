import { PAGE, STYLE } from '../../pdf/look.js';
import { table } from '../../pdf/table.js';
import { paragraph, section, subheading } from '../../pdf/text.js';
import type { Balance } from '../record-release.js';
import { figure, plain, sentence, withUnit } from '../words.js';
import { kg, when } from './columns.js';
import type { Writing } from './page.js';

/** Set narrow, like the slip of a scale: what went in, what came out, what still lies there, what the air took. */
export function massBalance(writing: Writing): void {
  const { sheet, record } = writing;
  const { balance } = record;
  section(sheet, 'Mass balance', () => {
    piles(writing);
    if (balance === null) {
      paragraph(sheet, 'No balance has been drawn.');
      return;
    }
    slip(sheet, balance);
    paragraph(sheet, `Of what went in, ${weighedInWords(balance)}.`);
    if (balance.excessKg !== null) {
      const excess = `More came out than went in, by ${withUnit(balance.excessKg, 'kg')}: something is missing or mistyped.`;
      paragraph(sheet, `${excess} Until that is found there is no process loss to print.`, STYLE.strong);
    }
    if (balance.yieldPercent === null) return;
    const yielded = withUnit(balance.yieldPercent, '%');
    paragraph(sheet, `Yield: ${yielded} of what went in has come out as compost, both as wet mass.`);
  });
}

function weighedInWords({ weighedKg, sharedKg, estimatedKg }: Balance): string {
  const shared =
    sharedKg > 0 ? `, ${withUnit(sharedKg, 'kg')} weighed with its haul and shared by volume` : '';
  return `${withUnit(weighedKg, 'kg')} was weighed${shared} and ${withUnit(estimatedKg, 'kg')} estimated`;
}

function piles({ sheet, record, clock }: Writing): void {
  if (record.piles.length === 0) return;
  subheading(sheet, 'How big it was found to be');
  table(
    sheet,
    [
      when('When'),
      { title: 'Shape', share: 1 },
      { title: 'Sizes, m', share: 1 },
      { title: 'Volume, L', align: 'figure', width: 60 },
      { title: 'Density, kg/m³', align: 'figure', width: 60 },
      { ...kg('Mass'), width: 60 },
    ],
    record.piles.map(
      ({ occurredAt, shape, lengthM, widthM, topWidthM, heightM, volumeL, densityKgM3, massKg, note }) => {
        const top = topWidthM === null ? '' : `, ${figure(topWidthM)} on top`;
        const long = lengthM === null ? '' : `${figure(lengthM)} long, `;
        const sizes = `${long}${figure(widthM)} wide${top}, ${figure(heightM)} high`;
        const figures = [volumeL, densityKgM3, massKg].map(figure);
        const told = [sentence(plain(shape)), ...(note === null ? [] : [note])].join('\n');
        return { cells: [clock(occurredAt), told, sizes, ...figures] };
      },
    ),
  );
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
