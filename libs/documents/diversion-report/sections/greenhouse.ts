import { STYLE } from '../../pdf/look.js';
import { bullets } from '../../pdf/list.js';
import { type Column, table } from '../../pdf/table.js';
import { intro, paragraph, section } from '../../pdf/text.js';
import type { GreenhouseEstimate } from '#libs/accounting';
import { figure, plain, sentence } from '../../batch-record/words.js';
import type { Writing } from './page.js';

const tonnes = (title: string): Column => ({ title: `${title}, t CO₂e`, align: 'figure', width: 72 });

type Estimated = GreenhouseEstimate['total'];
const cellsOf = ({ massKg, compostingTCo2e, landfillTCo2e, differenceTCo2e }: Estimated): string[] => [
  figure(massKg),
  figure(compostingTCo2e),
  figure(landfillTCo2e),
  figure(differenceTCo2e),
];

/** An estimate only where a set of factors was chosen; its signs as the method gives them. */
export function greenhouse({ sheet, report: { greenhouse: estimate } }: Writing): void {
  if (estimate === null) return;
  section(sheet, 'Greenhouse estimate', () => {
    const { title, version, source, lines, total, unknownKg, notes } = estimate;
    intro(sheet, `${title} (${version}), and no other set. Source: ${source}.`);
    intro(sheet, direction(estimate), STYLE.lead);
    table(
      sheet,
      [
        { title: 'Kind of waste', share: 1 },
        { title: 'Mass, kg', align: 'figure', width: 70 },
        tonnes('Composted'),
        tonnes('Had it gone to landfill'),
        tonnes('Composted less landfill'),
      ],
      [
        ...lines.map((line) => ({
          cells: [`${sentence(plain(line.category))}\n${line.materials.join('; ')}`, ...cellsOf(line)],
        })),
        { total: true, cells: ['Total', ...cellsOf(total)] },
      ],
    );
    if (unknownKg > 0) {
      paragraph(sheet, `Of ${figure(unknownKg)} kg the set says nothing; they are in no total.`);
    }
    bullets(sheet, notes);
    paragraph(sheet, 'Its factors are listed with all others, under methods, factors and sources.');
  });
}

/** What the signs mean, since a table of signs is easily read the wrong way round. */
function direction({ total: { compostingTCo2e, differenceTCo2e } }: GreenhouseEstimate): string {
  if (compostingTCo2e === null) {
    return 'The set has no factor for anything that was accepted: there is no estimate.';
  }
  if (differenceTCo2e === null) {
    return 'The set has no landfill to compare with: these are emissions of composting, and no saving can be read from them.';
  }
  const than = differenceTCo2e < 0 ? 'less' : 'more';
  if (differenceTCo2e === 0) return 'By this set composting and landfill come to the same.';
  return `By this set composting comes to ${than} warming than landfill would have. Below zero is less, above zero is more.`;
}
