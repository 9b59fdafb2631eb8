import { CONTENT_WIDTH, INK, PAGE, STYLE } from '../../pdf/look.js';
import { table } from '../../pdf/table.js';
import { paragraph } from '../../pdf/text.js';
import type { BatchRecord } from '../record.js';
import { NONE, plain, sentence, standingOf, withUnit } from '../words.js';
import type { Writing } from './page.js';
import { furtherInWords, verdictInWords } from './verdict.js';

/** The first thing an inspector reads: which batch, released or not, and how it stands. */
export function opening(writing: Writing): void {
  const { sheet, record } = writing;
  drawStanding(writing);
  paragraph(sheet, 'Batch record', STYLE.label, { after: 0 });
  const titlePlace = { x: PAGE.left, width: CONTENT_WIDTH - 190 };
  paragraph(sheet, record.batch.code, STYLE.title, { tag: 'H1', place: titlePlace, after: 2 });
  paragraph(sheet, `${record.site.name} (${record.site.code}), ${record.programme.name}`, STYLE.strong, {
    after: 0,
  });
  paragraph(sheet, `Times are the site's own: ${record.site.timeZone}.`, STYLE.note, { after: 10 });
  glance(writing);
  paragraph(sheet, verdictInWords(writing), STYLE.lead, { after: 6 });
  for (const words of furtherInWords(writing)) paragraph(sheet, words, STYLE.lead, { after: 6 });
  if (record.status === 'draft') paragraph(sheet, draftInWords(record), STYLE.strong, { after: 6 });
  paragraph(sheet, record.deference, STYLE.body);
}

function drawStanding({ sheet, record, clock }: Writing): void {
  const isDraft = record.status === 'draft';
  const detail = isDraft ? 'not released, not sealed' : clock(record.release?.signedAt ?? null);
  const width = 150;
  const x = PAGE.width - PAGE.right - width;
  const element = sheet.element('P');
  sheet.draw(element, () => {
    sheet.doc.rect(x, sheet.y, width, 42).lineWidth(isDraft ? 2 : 0.9);
    sheet.doc.stroke(isDraft ? INK.black : INK.accent);
    sheet.line(`${standingOf(record).toUpperCase()} `, x + 10, sheet.y + 5, STYLE.big);
    sheet.line(detail, x + 10, sheet.y + 24, STYLE.label);
  });
  element.end();
}

function glance({ sheet, record }: Writing): void {
  const { balance, cure } = record;
  const gates = record.gates.filter(({ state }) => state !== 'not-required');
  const met = gates.filter(({ state }) => state === 'met');
  table(
    sheet,
    [
      { title: 'Stage', share: 1.2 },
      { title: 'Went in', share: 1.3 },
      { title: record.furtherVerdicts.length > 0 ? 'Process rules' : 'Process rule', share: 1.2 },
      { title: 'Cured', share: 0.9 },
      { title: 'Gates met', share: 0.9 },
      { title: 'Yield', share: 0.8 },
    ],
    [
      {
        cells: [
          sentence(record.batch.stage),
          withUnit(balance?.inputKg ?? record.intake.acceptedKg, 'kg'),
          rulesAtAGlance(record),
          withUnit(cure?.daysDone ?? null, 'days'),
          gates.length > 0 ? `${met.length} of ${gates.length}` : NONE,
          withUnit(balance?.yieldPercent ?? null, '%'),
        ],
      },
    ],
    { style: STYLE.big, pad: 4 },
  );
}

/** One rule by its word; of several that bind alike, how many are met. */
function rulesAtAGlance({ verdict, furtherVerdicts }: BatchRecord): string {
  if (furtherVerdicts.length === 0) return verdict ? sentence(plain(verdict.status)) : 'None set';
  const verdicts = [...(verdict ? [verdict] : []), ...furtherVerdicts];
  return `${verdicts.filter(({ status }) => status === 'met').length} of ${verdicts.length} met`;
}

function draftInWords({ batch, merges }: BatchRecord): string {
  const gone = merges.find(({ direction }) => direction === 'on');
  if (gone) {
    return (
      `All that lay there was put into batch ${gone.batch}, and this record was closed by that. It was never released by ` +
      'itself: what became of it is told by the record of that batch.'
    );
  }
  if (batch.stage === 'condemned') {
    return 'This batch was condemned. It was never released, and nothing of it is to be handed out as compost.';
  }
  return (
    `This is a draft. The batch is ${batch.stage} and has not been released by a manager's signature; ` +
    'nothing of it is to be handed out as compost on the strength of this page.'
  );
}
