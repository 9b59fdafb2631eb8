import { table } from '../../pdf/table.js';
import { subheading } from '../../pdf/text.js';
import type { Merge } from '../record-accounts.js';
import { figure } from '../words.js';
import { kg, when } from './columns.js';
import type { Writing } from './page.js';

const BASIS = { scale: 'weighed', volume: 'estimated', records: 'by its records' } as const;

/** What came from other batches, and where this one went. */
export function merges({ sheet, record, clock }: Writing): void {
  if (record.merges.length === 0) return;
  const met = ({ direction, metAt }: Merge): string => {
    if (direction === 'on') return '';
    return metAt === null ? 'had not met the rule, or none is named' : `had met the rule on ${clock(metAt)}`;
  };
  subheading(sheet, 'Merged batches');
  table(
    sheet,
    [
      when('When'),
      { title: 'Batch', share: 1 },
      { title: 'How it stood', share: 1.2 },
      { title: 'Mass is', width: 74 },
      { ...kg('Mass'), width: 56 },
    ],
    record.merges.map((merge) => {
      const { occurredAt, direction, batch, basis, massKg, note } = merge;
      const what = direction === 'in' ? `${batch} was put in` : `all of it was put into ${batch}`;
      const told = note === null ? what : `${what}. ${note}`;
      return { cells: [clock(occurredAt), told, met(merge), BASIS[basis], figure(massKg)] };
    }),
  );
}
