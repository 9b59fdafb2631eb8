import { figure, plain, sentence } from '../batch-record/words.js';
import { bullets } from '../pdf/list.js';
import { CONTENT_WIDTH, INK, PAGE, STYLE } from '../pdf/look.js';
import { Sheet } from '../pdf/sheet.js';
import { type Column, pairs, type Row, table } from '../pdf/table.js';
import { intro, paragraph, section } from '../pdf/text.js';
import type { RecallBatch, RecallDistribution, RecallList, RecallWaiting } from './recall.js';
import { localMinute } from './words.js';

/** A column of figures under a heading of one or two short words. */
const figures = (title: string, width: number): Column => ({ title, align: 'figure', width });

/** Left for the pen; the table leaves out columns in which nothing stands. */
const TO_FILL_IN = '\u00a0';

/** The list on paper: what to hold, whom to tell, with room to note that they were. PDF 1.7, tagged. */
export async function recallPdf(list: RecallList): Promise<Uint8Array> {
  const { subject, asOf } = list;
  const title = `Recall list: ${subject.title}`;
  const sheet = new Sheet({ title, createdAt: new Date(asOf), keywords: null });
  const drawnUp = `Drawn up ${localMinute(asOf, subject.timeZone)}, ${subject.timeZone}`;
  paragraph(sheet, 'Recall list', STYLE.label, { after: 0 });
  paragraph(sheet, subject.title, STYLE.title, { tag: 'H1', after: 2 });
  paragraph(sheet, `${list.programme}. ${drawnUp}.`, STYLE.note, { after: 8 });
  paragraph(sheet, recallInWords(list), STYLE.lead, { after: 8 });
  pairs(
    sheet,
    subject.lines.map(({ label, value }) => [label, value]),
  );
  cautions(sheet, list);
  batches(sheet, list.batches);
  distributions(sheet, list.distributions);
  section(sheet, 'What is taken for granted', () => bullets(sheet, list.assumptions));
  if (sheet.replaced)
    paragraph(sheet, 'Characters printed as \ufffd have no letter in this typeface.', STYLE.note);
  sheet.onEveryPage((page, pages) => foot(sheet, `${title}. ${drawnUp}.`, `Page ${page} of ${pages}`));
  return sheet.finish();
}

/** Of a batch in one of these stages nothing is left to hold. */
const GONE: readonly string[] = ['merged', 'emptied'];

/** The list in a few sentences: how far it went, and what is not held yet. */
export function recallInWords({ waiting, batches, distributions }: RecallList): string {
  const apart = waiting ? [waitingInWords(waiting)] : [];
  if (batches.length === 0)
    return ['It is in no batch here, so no compost of it was handed out here.', ...apart].join(' ');
  const handedOut =
    distributions.length === 0
      ? 'None of it is recorded as handed out.'
      : `It was handed out in ${count(distributions.length, 'distribution')}.`;
  const loose = batches
    .filter(({ onHold, stage }) => !onHold && !GONE.includes(stage))
    .map(({ code }) => code);
  const held =
    loose.length === 0
      ? 'All that still have something to give are on hold.'
      : `Not on hold: ${loose.join(', ')}.`;
  return [`It came into ${count(batches.length, 'batch')}.`, handedOut, held, ...apart].join(' ');
}

function waitingInWords({ kind, site, ofItKg }: RecallWaiting): string {
  const mass = `${figure(ofItKg)} kg of it`;
  if (kind === 'elsewhere') return `${mass} went to ${site}, who compost it: tell them.`;
  const where = kind === 'waiting' ? `waits at ${site}` : `is on the road to ${site}`;
  return `${mass} ${where}: set it apart, and put it into no batch.`;
}

const count = (number: number, what: string): string =>
  number === 1 ? `1 ${what}` : `${number} ${what}${what.endsWith('ch') ? 'es' : 's'}`;

function cautions(sheet: Sheet, { cautions }: RecallList): void {
  section(sheet, 'Before anything is done', () => {
    table(
      sheet,
      [
        { title: 'About', width: 66 },
        { title: 'Caution, and its source', share: 1 },
      ],
      cautions.map(({ topic, text, source }) => ({ cells: [topic, `${text} Source: ${source}.`] })),
    );
  });
}

function batches(sheet: Sheet, list: readonly RecallBatch[]): void {
  if (list.length === 0) return;
  section(sheet, 'Batches that it came to', () => {
    intro(
      sheet,
      'The nearest first. Hold every one that still has anything to give: compost, overs, or all of it.',
    );
    table(
      sheet,
      [
        { title: 'Batch, and how it came there', share: 1 },
        { title: 'Stage', width: 56 },
        figures('Put in, kg', 48),
        figures('Of it, kg', 44),
        figures('Share, %', 40),
        figures('Compost left, kg', 48),
        figures('Overs left, kg', 42),
      ],
      list.map((batch): Row => ({
        cells: [
          [batch.code, ...(batch.ways.length > 0 ? batch.ways : ['put in itself'])].join('\n'),
          batch.onHold ? `${batch.stage}, on hold` : batch.stage,
          ...[batch.inputKg, batch.ofItKg, batch.sharePercent, batch.compostLeftKg, batch.oversLeftKg].map(
            figure,
          ),
        ],
      })),
    );
  });
}

function distributions(sheet: Sheet, list: readonly RecallDistribution[]): void {
  section(sheet, 'Whom to tell', () => {
    if (list.length === 0) {
      paragraph(sheet, 'Nothing of these batches is recorded as handed out.');
      return;
    }
    intro(sheet, 'Kinds of recipients, no names: those are in the programme’s own papers, if anywhere.');
    table(
      sheet,
      [
        { title: 'When', width: 52 },
        { title: 'Code', width: 72 },
        { title: 'To, for', share: 1 },
        figures('Mass, kg', 46),
        figures('Of it, kg', 44),
        figures('Share, %', 40),
        { title: 'Told on, by', width: 66 },
      ],
      list.map((one) => ({
        cells: [
          localMinute(one.occurredAt, one.timeZone).slice(0, 10),
          one.code,
          [`${sentence(plain(one.recipient))}, for ${plain(one.use)}`, ...(one.note ? [one.note] : [])].join(
            '\n',
          ),
          ...[one.massKg, one.ofItKg, one.sharePercent].map(figure),
          TO_FILL_IN,
        ],
      })),
    );
  });
}

function foot(sheet: Sheet, left: string, right: string): void {
  const y = PAGE.height - 46;
  const width = sheet.widthOf(right, STYLE.foot);
  sheet.rule(PAGE.left, y - 6, CONTENT_WIDTH, { colour: INK.rule });
  sheet.line(sheet.fit(left, STYLE.foot, CONTENT_WIDTH - width - 20), PAGE.left, y, STYLE.foot);
  sheet.line(right, PAGE.width - PAGE.right - width, y, STYLE.foot);
}
