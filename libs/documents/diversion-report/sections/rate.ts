import { PAGE, STYLE } from '../../pdf/look.js';
import { table } from '../../pdf/table.js';
import { bullets } from '../../pdf/list.js';
import { paragraph, section } from '../../pdf/text.js';
import { figure, sentence } from '../../batch-record/words.js';
import type { Writing } from './page.js';

/** A percentage with everything it was made of; or why there is none. */
export function rate({ sheet, report: { rate } }: Writing): void {
  section(sheet, 'Rate', () => {
    if (rate === null) {
      paragraph(
        sheet,
        'No percentage is printed. It takes what the municipality disposed of in the same period, which was not supplied.',
      );
      return;
    }
    const { title, percent, formula, expression, source, terms, notes } = rate;
    paragraph(sheet, `${title}: ${figure(percent)} %`, STYLE.big, { after: 2 });
    paragraph(sheet, `${expression} (${formula}). Source: ${source}.`, STYLE.body, { after: 6 });
    table(
      sheet,
      [
        { title: 'Term', width: 120 },
        { title: 'From', share: 1 },
        { title: 'Mass, kg', align: 'figure', width: 84 },
      ],
      terms.map(({ name, from, massKg }) => ({ cells: [sentence(name), from, figure(massKg)] })),
      { place: { x: PAGE.left, width: 420 } },
    );
    if (notes.length > 0) bullets(sheet, notes);
  });
}
