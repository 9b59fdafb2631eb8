import type { DiversionFigures, InStock, WentTo } from '#libs/accounting';
import { PAGE } from '../../pdf/look.js';
import { table } from '../../pdf/table.js';
import { paragraph, section } from '../../pdf/text.js';
import { figure, plain, sentence } from '../../batch-record/words.js';
import { PLACE_WORDS } from '../words.js';
import type { Writing } from './page.js';

/** Half as wide as the page: a figure far from its name is read into the wrong row. */
const NARROW = { place: { x: PAGE.left, width: 330 } };
const MASS = { title: 'Mass, kg', align: 'figure', width: 78 } as const;

const placeInWords = (code: string): string => PLACE_WORDS[code] ?? plain(code);

/** What was refused, pulled and left over, and where it went. */
export function takenOut({ sheet, report: { figures } }: Writing): void {
  const { total, refused, pulled, residue, residueTo } = figures;
  section(sheet, 'Turned away, pulled and left over', () => {
    paragraph(sheet, refusedInWords(refused));
    const rowsOf = (kind: string, list: readonly WentTo[]) =>
      list.map(({ wentTo, massKg }) => ({ cells: [kind, placeInWords(wentTo), figure(massKg)] }));
    const rows = [
      ...rowsOf('Pulled before it was accepted', pulled),
      ...rowsOf('Residue, taken out of batches', residue),
    ];
    if (rows.length === 0) paragraph(sheet, 'Nothing was pulled, and no residue was taken out.');
    else table(sheet, [{ title: 'What', share: 1.2 }, { title: 'Went to', share: 1 }, MASS], rows, NARROW);
    if (total.elsewhereKg > 0) {
      const sent = `${figure(total.elsewhereKg)} kg were sent on to be composted by somebody else.`;
      paragraph(sheet, `${sent} They are accepted and diverted all the same.`);
    }
    paragraph(
      sheet,
      residueTo === 'traced'
        ? 'Residue is booked to where the material of its batch came from, in proportion to what had gone in.'
        : 'Residue is booked to the jurisdiction in which the yard stands.',
    );
  });
}

function refusedInWords({ loads, unweighed, massKg }: DiversionFigures['refused']): string {
  if (loads === 0) return 'No load was turned away.';
  const count = loads === 1 ? '1 load was turned away' : `${figure(loads)} loads were turned away`;
  const unknown = unweighed === 0 ? '' : `, ${figure(unweighed)} of them not weighed`;
  return `${count}${unknown}: ${figure(massKg)} kg. What was refused never came in, and is in no other figure.`;
}

export function depositors({ sheet, report: { figures } }: Writing): void {
  if (figures.byDepositor.length === 0) return;
  section(sheet, 'Who came', () => {
    table(
      sheet,
      [
        { title: 'Kind of depositor', share: 1 },
        { title: 'Visits', align: 'figure', width: 60 },
        { ...MASS, title: 'Accepted, kg' },
      ],
      [
        ...figures.byDepositor.map(({ depositor, visits, acceptedKg }) => ({
          cells: [sentence(plain(depositor)), figure(visits), figure(acceptedKg)],
        })),
        { total: true, cells: ['All', figure(figures.visits), figure(figures.total.acceptedKg)] },
      ],
      NARROW,
    );
    paragraph(sheet, 'A visit is one depositor at one site at one time, whatever number of materials.');
  });
}

const STOCK: readonly [keyof Omit<InStock, 'on'>, string][] = [
  ['waitingKg', 'Dropped off, in no batch yet'],
  ['onTheRoadKg', 'On the road to a yard'],
  ['buildingKg', 'In batches that were being built'],
  ['activeKg', 'In active batches'],
  ['curingKg', 'In curing batches'],
];

export function stock({ sheet, report: { figures } }: Writing): void {
  const { stockAtStart, stockAtEnd } = figures;
  section(sheet, 'In stock at the start and at the end', () => {
    table(
      sheet,
      [
        { title: 'As of the beginning of the day', share: 1 },
        { ...MASS, title: `${stockAtStart.on}, kg` },
        { ...MASS, title: `${stockAtEnd.on}, kg` },
      ],
      STOCK.map(([key, words]) => ({ cells: [words, figure(stockAtStart[key]), figure(stockAtEnd[key])] })),
      NARROW,
    );
    paragraph(sheet, 'As it went in: what the air takes is known only when a batch is screened.');
  });
}
