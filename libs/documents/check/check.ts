import { type AnyBatchRecord, recordOf } from '../batch-record/earlier.js';
import { batchRecordPdf } from '../batch-record/pdf.js';
import { canonicalJson, sealOf } from '../canonical.js';
import { diversionReportPdf } from '../diversion-report/pdf.js';
import type { DiversionReport } from '../diversion-report/report.js';
import { attachedText, partsOf, sameParts } from './pdf-parts.js';

export interface Checked {
  /** True where something was held against a seal, and everything agreed. */
  ok: boolean;
  /** What was found, in sentences. */
  lines: string[];
}

const SEAL = /^[0-9a-f]{64}$/;
const TEXT = /"(?:[^"\\]|\\.)*"/g;

/**
 * Holds a sealed document against its seal, with nothing but the file: JSON by its digest; a PDF by the digest of the JSON
 * that is attached inside, and by drawing that JSON anew and comparing. `seal` is the one known from elsewhere, in hex.
 *
 * A file that agrees with itself is whole; that the programme issued it is known only from a seal that came another way,
 * from its paper or from `/seals/:hash`.
 */
export async function checkDocument(bytes: Uint8Array, seal: string | null): Promise<Checked> {
  const asked = seal?.toLowerCase() ?? null;
  if (asked !== null && !SEAL.test(asked)) return refused('A seal is 64 hexadecimal digits.');
  const isPdf = Buffer.from(bytes.subarray(0, 5)).toString('latin1') === '%PDF-';
  return isPdf ? checkPdf(bytes, asked) : checkJson(bytes, asked);
}

function checkJson(bytes: Uint8Array, seal: string | null): Checked {
  const read = documentIn(Buffer.from(bytes).toString('utf8'));
  if ('fault' in read) return refused(read.fault);
  const found = `The seal of what this file says is ${read.seal}.`;
  if (seal === null) {
    const how = 'Give the seal that is printed on its paper or told by the programme, with --seal.';
    return refused(found, `A seal to hold it against is missing. ${how}`);
  }
  if (read.seal !== seal)
    return refused(found, `That is not ${seal}: it was altered, or the seal is of another document.`);
  return {
    ok: true,
    lines: [nameOf(read.document), found, 'That is the seal it was held against: nothing was altered.'],
  };
}

async function checkPdf(bytes: Uint8Array, seal: string | null): Promise<Checked> {
  const parts = partsOf(bytes);
  if (!parts)
    return refused(
      'The file is not as Heapwright wrote it: altered, broken off, or saved again by another program.',
      'If a JSON document is attached in it, save that from a PDF reader and check it by itself, with the seal.',
    );
  const text = attachedText(parts);
  if (text === null)
    return refused('No sealed document is attached inside: it is a draft, or no document of Heapwright.');
  const read = documentIn(text);
  if ('fault' in read) return refused(read.fault);
  const found = `The seal of the document inside is ${read.seal}.`;
  if (seal !== null && seal !== read.seal)
    return refused(found, `That is not ${seal}: it was altered, or the seal is of another document.`);
  const drawn = await drawingOf(read.document, read.seal, text);
  const anew = drawn && partsOf(drawn);
  if (!anew)
    return refused(found, 'Its form is not known to this version: the pages cannot be held against it.');
  if (!sameParts(parts, anew)) {
    const doubt =
      'The pages are not what this version draws of it: they were altered, or drawn by another version.';
    return refused(found, doubt, 'Rely on the document inside, and not on the pages.');
  }
  const itself = 'The pages are what is drawn of it, and bear that seal.';
  const known =
    seal === null
      ? 'The file agrees with itself. That the programme issued it, /seals tells under that seal.'
      : 'That is the seal it was held against: nothing was altered.';
  return { ok: true, lines: [nameOf(read.document), found, itself, known] };
}

interface Read {
  document: { schema: string };
  seal: string;
}

/** What a text says, and the seal of it. A text that can be read in two ways says nothing. */
function documentIn(text: string): Read | { fault: string } {
  let document: unknown;
  let canonical: string;
  try {
    document = JSON.parse(text);
    canonical = canonicalJson(document);
  } catch {
    return { fault: 'The file is neither JSON nor a PDF that can be read.' };
  }
  if (
    typeof document !== 'object' ||
    document === null ||
    typeof (document as Read['document']).schema !== 'string'
  )
    return { fault: 'It is JSON, but no document of Heapwright: it names no schema.' };
  // A name that stands twice is read once, and by another program perhaps the other time.
  if (membersIn(text) !== membersIn(canonical))
    return {
      fault: 'A name stands twice in it, so that it can be read in two ways: it is not what was sealed.',
    };
  return { document: document as Read['document'], seal: sealOf(document) };
}

/** Each has one colon that is in no text. */
const membersIn = (json: string): number => json.replace(TEXT, '').split(':').length - 1;

/** Null for a form that this version does not know. */
async function drawingOf(document: Read['document'], seal: string, text: string): Promise<Uint8Array | null> {
  try {
    if (document.schema.startsWith('heapwright/batch-record/'))
      return await batchRecordPdf(recordOf(document as AnyBatchRecord), seal, text);
    if (document.schema.startsWith('heapwright/diversion-report/'))
      return await diversionReportPdf(document as DiversionReport, seal);
    return null;
  } catch {
    return null;
  }
}

function nameOf({ schema }: Read['document']): string {
  return `It is a document of the form ${schema}.`;
}

const refused = (...lines: string[]): Checked => ({ ok: false, lines });
