import { STYLE } from '../../pdf/look.js';
import { bullets } from '../../pdf/list.js';
import { table } from '../../pdf/table.js';
import { section, subheading } from '../../pdf/text.js';
import { figure } from '../../batch-record/words.js';
import type { Writing } from './page.js';

export function methods({ sheet, report: { methods, factors } }: Writing): void {
  section(sheet, 'Methods, factors and sources', () => {
    table(
      sheet,
      [
        { title: 'Figure', width: 84 },
        { title: 'How it was made, and its source', share: 1 },
      ],
      methods.map(({ title, text, source }) => ({ cells: [title, `${text} Source: ${source}.`] })),
    );
    if (factors.length === 0) return;
    subheading(sheet, 'Factors');
    table(
      sheet,
      [
        { title: 'Factor', share: 1 },
        // Seventeen characters of one factor and the whole digits of another stand on one line.
        { title: 'Value', align: 'figure', width: 100 },
        { title: 'Unit', width: 72 },
        { title: 'Source', share: 1.4 },
      ],
      factors.map(({ name, value, unit, source }) => ({ cells: [name, figure(value), unit, source] })),
      { style: STYLE.dense },
    );
  });
}

export function limits({ sheet, report: { limits } }: Writing): void {
  if (limits.length === 0) return;
  section(sheet, 'What these figures do not say', () => bullets(sheet, limits));
}
