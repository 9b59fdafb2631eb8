import { CONTENT_WIDTH, INK, PAGE, STYLE } from '../../pdf/look.js';
import { table } from '../../pdf/table.js';
import { paragraph, section, subheading } from '../../pdf/text.js';
import type { Release } from '../record-release.js';
import { figure, plain, sentence } from '../words.js';
import { kg, when } from './columns.js';
import type { Writing } from './page.js';

export function gatesAndSignature(writing: Writing): void {
  const { sheet, record } = writing;
  section(sheet, 'Gates and signature', () => {
    holds(writing);
    gates(writing);
    subheading(sheet, 'Signature');
    if (record.release) signature(writing, record.release);
    else
      paragraph(sheet, 'Not signed. Without a signature this batch is not released, whatever its gates say.');
    seal(writing);
  });
}

/** One that stands is said first and in bold: nothing of the batch may leave. */
function holds({ sheet, record, clock }: Writing): void {
  for (const { occurredAt, reason, liftedAt, liftReason } of record.holds) {
    const held = `On hold since ${clock(occurredAt)}: ${reason}.`;
    if (liftedAt === null) paragraph(sheet, `${held} Nothing of it is released or handed out.`, STYLE.strong);
    else paragraph(sheet, `${held} Lifted on ${clock(liftedAt)}: ${liftReason ?? 'no reason is given'}.`);
  }
}

function gates({ sheet, record: { gates } }: Writing): void {
  if (gates.length === 0) {
    paragraph(sheet, 'No gates are set for this batch.');
    return;
  }
  table(
    sheet,
    [
      { title: 'Gate', width: 102 },
      { title: 'State', width: 58 },
      { title: 'Why', share: 1 },
    ],
    gates.map(({ key, state, text, overrideReason }) => ({
      cells: [gateName(key), plain(state), overridden(text, overrideReason)],
    })),
  );
}

/** Under the text and not beside it: both may be long. */
const overridden = (text: string, reason: string | null): string =>
  reason === null ? text : `${text}\nReleased in spite of it, because: ${reason}`;

/** `process-rule:us-503-psrp` is of that rule, whose code is left as it is. */
function gateName(key: string): string {
  const [gate = '', of] = key.split(':');
  return sentence(plain(gate)) + (of === undefined ? '' : `: ${of}`);
}

function signature({ sheet, clock }: Writing, release: Release): void {
  sheet.need(90);
  paragraph(sheet, release.statement, STYLE.body, { after: 10 });
  paragraph(sheet, release.signedBy, STYLE.big, { after: 1 });
  sheet.artifact(() => sheet.rule(PAGE.left, sheet.y, 240, { colour: INK.black, weight: 0.8 }));
  sheet.y += 3;
  const signed = `${sentence(release.role)}, ${clock(release.signedAt)}; typed in ${clock(release.recordedAt)}`;
  paragraph(sheet, signed, STYLE.note, { after: 8 });
}

/** The seal in full, and how anyone can check it without this software. */
function seal({ sheet, record, seal: digest }: Writing): void {
  subheading(sheet, 'Seal');
  if (digest === null) {
    paragraph(sheet, 'Not sealed. A record is sealed when it is signed.');
    return;
  }
  sheet.need(70);
  const { y } = sheet;
  sheet.artifact(() => sheet.doc.rect(PAGE.left, y, CONTENT_WIDTH, 24).lineWidth(0.9).stroke(INK.accent));
  sheet.y += 5.5;
  paragraph(sheet, digest, STYLE.strong, {
    place: { x: PAGE.left + 10, width: CONTENT_WIDTH - 20 },
    after: 0,
  });
  sheet.y = y + 31;
  paragraph(
    sheet,
    `To verify: take record.json of batch ${record.batch.code}, version ${record.version}; write it in the canonical form of ` +
      'RFC 8785 (JSON Canonicalization Scheme); the SHA-256 of those bytes, in hexadecimal, must be the seal above. ' +
      `The programme's own server answers the same question at /api/seals/ followed by the seal. Any change to any ` +
      'figure gives another seal.',
    STYLE.note,
  );
}

export function distributions({ sheet, record: { distributions }, clock }: Writing): void {
  section(sheet, 'Distribution', () => {
    if (distributions.length === 0) {
      paragraph(sheet, 'No compost of this batch had left when this record was made.');
      return;
    }
    table(
      sheet,
      [
        when('When'),
        { title: 'To', share: 1 },
        { title: 'Use', share: 1 },
        { title: 'Note', share: 1 },
        { title: 'Basis', width: 48 },
        { title: 'Volume, L', align: 'figure', width: 52 },
        kg('Mass'),
      ],
      distributions.map(({ occurredAt, recipient, use, note, basis, volumeL, massKg }) => ({
        cells: [
          clock(occurredAt),
          plain(recipient),
          plain(use),
          note ?? '',
          basis === 'scale' ? 'weighed' : 'estimated',
          figure(volumeL),
          figure(massKg),
        ],
      })),
    );
  });
}

export function cautions({ sheet, record }: Writing): void {
  section(sheet, 'Cautions', () => {
    paragraph(sheet, record.deference, STYLE.strong, { after: 6 });
    table(
      sheet,
      [
        { title: 'About', width: 66 },
        { title: 'Caution, and its source', share: 1 },
      ],
      record.cautions.map(({ topic, text, source }) => ({ cells: [topic, withSource(text, source)] })),
    );
  });
}

/** One wide column reads faster than a narrow one of text beside a narrower one of sources. */
const withSource = (text: string, source: string): string => `${text} Source: ${source}.`;

export function methods({ sheet, record: { methods } }: Writing): void {
  if (methods.length === 0) return;
  section(sheet, 'Methods, factors and sources', () => {
    table(
      sheet,
      [
        { title: 'Figure', width: 66 },
        { title: 'How it was made, and its source', share: 1 },
      ],
      methods.map(({ title, text, source }) => ({ cells: [title, withSource(text, source)] })),
    );
  });
}
