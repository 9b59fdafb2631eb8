import { figure } from '../batch-record/words.js';
import { INK, type PageSize, STYLE, type Style } from '../pdf/look.js';
import { Sheet } from '../pdf/sheet.js';
import { paragraph, type Place } from '../pdf/text.js';
import { codeOf } from './code.js';
import type { CompostLabel } from './label.js';
import { HOW_TO_USE, LABEL_CAUTIONS } from './use.js';

/** Points. Four inches wide and as high as A6, so that either label takes it unscaled. */
const LABEL: PageSize = { width: 288, height: 419.5, left: 18, right: 18, top: 18, bottom: 16 };
const WIDTH = LABEL.width - LABEL.left - LABEL.right;
const WHOLE: Place = { x: LABEL.left, width: WIDTH };
const CODE_SIDE = 112;

const CODE: Style = { ...STYLE.title, size: 22, leading: 27 };
const AMOUNT: Style = { ...STYLE.big, size: 13, leading: 17 };
const SMALL: Style = { ...STYLE.note, size: 7.6, leading: 9.8, colour: INK.black };
const HEAD: Style = { ...STYLE.subheading, size: 8, leading: 10.5, colour: INK.accent };

/**
 * The label of compost that leaves, for one bag, bucket or load: PDF 1.7, tagged, declaring PDF/A-3a. The same label gives
 * the same bytes.
 *
 * @throws RangeError where the address of its record is too long for a code (about 2,300 letters).
 */
export async function compostLabelPdf(label: CompostLabel): Promise<Uint8Array> {
  const sheet = new Sheet({
    title: `Compost ${label.code}`,
    createdAt: new Date(`${label.on}T00:00:00Z`),
    keywords: label.recordUrl,
    page: LABEL,
  });
  identity(sheet, label);
  const { text } = HOW_TO_USE[label.use];
  heading(sheet, `How to use it: ${label.use.replaceAll('-', ' ')}`);
  paragraph(sheet, text, SMALL, { place: WHOLE, after: 4 });
  heading(sheet, 'Take care');
  for (const caution of LABEL_CAUTIONS) paragraph(sheet, caution.text, SMALL, { place: WHOLE, after: 2.4 });
  record(sheet, label);
  return sheet.finish();
}

function identity(sheet: Sheet, label: CompostLabel): void {
  const one = (text: string, style: Style, after = 0, tag: 'P' | 'H1' = 'P'): void =>
    paragraph(sheet, sheet.fit(text, style, WIDTH), style, { place: WHOLE, after, tag });
  one(`Compost from ${label.programme}`, STYLE.strong);
  one(label.code, CODE, 1, 'H1');
  const mass = `${figure(label.massKg)} kg${label.weighed ? '' : ', estimated'}`;
  one(label.volumeL === null ? mass : `${figure(label.volumeL)} L (${mass})`, AMOUNT);
  one(`Handed out on ${label.on}, of batch ${label.batch}`, STYLE.body);
  one(label.site, STYLE.body, 5);
}

function heading(sheet: Sheet, text: string): void {
  sheet.artifact(() => sheet.rule(LABEL.left, sheet.y, WIDTH, { colour: INK.accent, weight: 0.8 }));
  sheet.y += 2;
  paragraph(sheet, text, HEAD, { place: WHOLE, after: 1, tag: 'H2' });
}

/** Where the record of the batch can be read, at the foot. */
function record(sheet: Sheet, { recordUrl, batch, programme }: CompostLabel): void {
  heading(sheet, 'What it was made of, and how hot it was');
  if (recordUrl === null) {
    const words = `Ask ${programme} for the record of batch ${batch}.`;
    paragraph(sheet, words, SMALL, { place: WHOLE, after: 0 });
    return;
  }
  sheet.need(CODE_SIDE);
  const { size, path } = codeOf(recordUrl);
  const [x, { y }] = [LABEL.width - LABEL.right - CODE_SIDE, sheet];
  const options = {
    alt: `QR code of the address ${recordUrl}`,
    bbox: [x, y, x + CODE_SIDE, y + CODE_SIDE],
  };
  const figureElement = sheet.element('Figure', options);
  sheet.draw(figureElement, () => {
    sheet.doc
      .save()
      .translate(x, y)
      .scale(CODE_SIDE / size)
      .path(path)
      .fill('#000000')
      .restore();
  });
  figureElement.end();
  const place = { x: LABEL.left, width: WIDTH - CODE_SIDE - 8 };
  paragraph(sheet, `Scan the code for the record of batch ${batch}, or go to`, SMALL, { place, after: 1 });
  paragraph(sheet, recordUrl, { ...SMALL, size: 6.8, leading: 8.8 }, { place, after: 0 });
}
