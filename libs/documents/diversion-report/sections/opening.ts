import { CONTENT_WIDTH, INK, PAGE, STYLE, type Style } from '../../pdf/look.js';
import { drawStrip } from '../../pdf/strip.js';
import { pairs, table } from '../../pdf/table.js';
import { paragraph } from '../../pdf/text.js';
import { figure, sentence } from '../../batch-record/words.js';
import { BASIS_WORDS, momentInWords, percentInWords } from '../words.js';
import type { Writing } from './page.js';
import { sealBox } from './seal.js';

/** Read from an arm's length. */
const FIGURE: Style = { ...STYLE.title, size: 40, leading: 47 };
const UNIT: Style = { ...STYLE.big, size: 15, leading: 19 };

/** The first thing a reader looks for: how much, when, how it was measured, and whether it is signed for. */
export function opening(writing: Writing): void {
  const { sheet, report } = writing;
  drawStanding(writing);
  paragraph(sheet, 'Diversion report', STYLE.label, { after: 0 });
  const place = { x: PAGE.left, width: CONTENT_WIDTH - 165 };
  paragraph(sheet, report.jurisdiction.name, STYLE.title, { tag: 'H1', place, after: 1 });
  paragraph(sheet, `Reported by ${report.programme.name}`, STYLE.strong, { after: 12 });
  headline(writing);
  basis(writing);
  slip(writing);
  atAGlance(writing);
  sealBox(writing);
}

function drawStanding({ sheet, report, seal }: Writing): void {
  const isDraft = seal === null;
  const width = 150;
  const x = PAGE.width - PAGE.right - width;
  const element = sheet.element('P');
  sheet.draw(element, () => {
    sheet.doc.rect(x, sheet.y, width, 42).lineWidth(isDraft ? 2 : 0.9);
    sheet.doc.stroke(isDraft ? INK.black : INK.accent);
    const standing = isDraft ? 'DRAFT ' : `ISSUED, VERSION ${report.version} `;
    sheet.line(standing, x + 10, sheet.y + 5, STYLE.big);
    const detail = isDraft ? 'not issued, not sealed' : momentInWords(report.asOf);
    sheet.line(detail, x + 10, sheet.y + 24, STYLE.label);
  });
  element.end();
}

function headline({ sheet, report: { printed, period, figures } }: Writing): void {
  const text = printed.divertedShortTons;
  const element = sheet.element('P');
  const { y } = sheet;
  sheet.draw(element, () => {
    sheet.line(`${text} `, PAGE.left, y, FIGURE);
    const x = PAGE.left + sheet.widthOf(`${text} `, FIGURE);
    sheet.line('short tons kept out of landfill ', x, y + 10, UNIT);
    const also = `${printed.divertedTonnes} metric tonnes; ${figure(figures.total.divertedKg)} kg, to the gram `;
    sheet.line(also, x, y + 30, STYLE.label);
  });
  element.end();
  sheet.y = y + FIGURE.leading + 2;
  const year = period.wholeYear ? 'The whole reporting year' : 'The period';
  paragraph(sheet, `${year} ${period.inWords}`, STYLE.big, { after: 9 });
}

/** How far the figure rests on scales. */
function basis({ sheet, report: { figures, estimatedShare } }: Writing): void {
  const { weighedKg, sharedKg, estimatedKg, acceptedKg } = figures.total;
  if (estimatedShare === null) {
    paragraph(sheet, 'Nothing was accepted in this period.', STYLE.strong, { after: 8 });
    return;
  }
  const share = percentInWords(estimatedShare);
  const words =
    estimatedKg === 0
      ? 'All that was accepted was weighed; none of it is an estimate.'
      : `${share} of what was accepted is an estimate from volume and bulk density; the rest was weighed.`;
  paragraph(sheet, words, STYLE.lead, { after: 3 });
  const alt =
    `Of ${figure(acceptedKg)} kg accepted, ${figure(weighedKg)} kg were ${BASIS_WORDS.weighed}, ` +
    `${figure(sharedKg)} kg ${BASIS_WORDS.shared}, and ${figure(estimatedKg)} kg ${BASIS_WORDS.estimated}.`;
  drawStrip(sheet, [weighedKg, sharedKg, estimatedKg], Object.values(BASIS_WORDS), alt);
}

/** From what came in to what was kept out, as on the slip of a scale. */
function slip({ sheet, report: { figures, printed } }: Writing): void {
  const { total } = figures;
  const row = (label: string, massKg: number) => ({ cells: [label, figure(massKg), '', ''] });
  table(
    sheet,
    [
      { title: 'From what came to what was kept out of landfill', share: 1 },
      { title: 'Mass, kg', align: 'figure', width: 78 },
      { title: 'Tonnes', align: 'figure', width: 62 },
      { title: 'Short tons', align: 'figure', width: 62 },
    ],
    [
      row(sentence(BASIS_WORDS.weighed), total.weighedKg),
      row(sentence(BASIS_WORDS.shared), total.sharedKg),
      row(sentence(BASIS_WORDS.estimated), total.estimatedKg),
      {
        total: true,
        cells: ['Accepted', figure(total.acceptedKg), printed.acceptedTonnes, printed.acceptedShortTons],
      },
      row('Less residue that went to landfill', total.landfilledKg),
      {
        total: true,
        cells: ['Diverted', figure(total.divertedKg), printed.divertedTonnes, printed.divertedShortTons],
      },
    ],
  );
}

function atAGlance({ sheet, report, seal }: Writing): void {
  const { figures, rate, version } = report;
  const percent =
    rate === null ? 'none: what was disposed was not supplied' : `${rate.title}: ${figure(rate.percent)} %`;
  pairs(sheet, [
    ['Drop-offs', figure(figures.total.lots)],
    ['Visits', figure(figures.visits)],
    ['Rate', percent],
    ['Sent elsewhere', `${figure(figures.total.elsewhereKg)} kg`],
    [seal === null ? 'Drawn up by' : 'Issued by', report.issuedBy],
    ['Recorded up to', momentInWords(report.asOf)],
  ]);
  const { amends } = report;
  if (amends === null) return;
  const words = `Version ${version} amends version ${amends.version}: what changed is told below, figure by figure and line by line.`;
  paragraph(sheet, words, STYLE.body, { after: 6 });
}
