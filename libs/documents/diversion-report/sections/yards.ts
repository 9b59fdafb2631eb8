import { intro, paragraph, section } from '../../pdf/text.js';
import { pairs } from '../../pdf/table.js';
import { figure, withUnit } from '../../batch-record/words.js';
import type { Facility } from '../facility.js';
import type { Writing } from './page.js';
import { yardTables } from './yard-tables.js';

/** What forms of states ask of each yard that stands in the jurisdiction. */
export function yards({ sheet, report: { facilities } }: Writing): void {
  for (const yard of facilities) {
    section(sheet, `Yard ${yard.code}: ${yard.name}`, () => {
      intro(sheet, 'All that this yard handled, whatever jurisdiction it came from.');
      pairs(
        sheet,
        [
          ['Permits', permitsInWords(yard)],
          ['Water', `${figure(yard.waterKg)} kg`],
          ['Built', `${batches(yard.processed.batches)}, ${figure(yard.processed.massKg)} kg`],
          [
            'Compost made',
            `${batches(yard.produced.batches)}, ${figure(yard.produced.massKg)} kg, ${withUnit(yard.produced.volumeL, 'L')}`,
          ],
        ],
        1,
      );
      const missing = yardTables(sheet, yard);
      if (missing.length > 0)
        paragraph(sheet, `Of the period nothing is recorded under: ${missing.join('; ')}.`);
    });
  }
}

const batches = (count: number): string => (count === 1 ? '1 batch' : `${figure(count)} batches`);

function permitsInWords({ permits }: Facility): string {
  if (permits.length === 0) return 'none recorded';
  return permits
    .map(({ reference, validFrom, validTo }) => `${reference} (${validFrom} to ${validTo ?? 'no end date'})`)
    .join('\n');
}
