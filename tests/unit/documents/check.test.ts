import { deflateSync, inflateSync } from 'node:zlib';
import { beforeAll, describe, expect, it } from 'vitest';
import { batchRecordPdf, canonicalJson, checkDocument, diversionReportPdf, sealOf } from '#libs/documents';
import { diversionReport } from '../../support/diversion-report.js';
import { signedRecord } from './example.js';

const bytes = (text: string) => Buffer.from(text, 'utf8');

describe('a sealed report as JSON', () => {
  const report = diversionReport(3);
  const seal = sealOf(report);
  const text = canonicalJson(report);

  it('agrees with its seal, however its white space and order are', async () => {
    const written = [text, JSON.stringify(report), JSON.stringify(report, undefined, 2)];
    for (const one of written) {
      const { ok, lines } = await checkDocument(bytes(one), seal.toUpperCase());
      expect(ok, lines.join(' ')).toBe(true);
      expect(lines).toContain(`The seal of what this file says is ${seal}.`);
    }
  });

  it('is found out when a digit was altered, or the seal is another', async () => {
    const altered = text.replace(
      /"acceptedShortTons":"(\d)/,
      (_, digit) => `"acceptedShortTons":"${9 - Number(digit)}`,
    );
    expect(altered).not.toBe(text);
    expect((await checkDocument(bytes(altered), seal)).ok).toBe(false);
    const other = await checkDocument(bytes(text), sealOf({}));
    expect([other.ok, other.lines.at(-1)]).toEqual([
      false,
      expect.stringContaining('altered, or the seal is of another'),
    ]);
  });

  it('is found out when a name stands twice, one for each kind of reader', async () => {
    const twice = text.replace('"version":', '"version":9,"version":');
    expect(JSON.parse(twice)).toEqual(report);
    expect((await checkDocument(bytes(twice), seal)).lines[0]).toContain('A name stands twice');
  });

  it('is found out so even where the room for the second name was saved on a number', async () => {
    const thousands = { ...report, version: 1_000_000_000 };
    const written = canonicalJson(thousands);
    const twice = written.replace('"version":1000000000', '"version":9,"version":1e9');
    expect(JSON.parse(twice)).toEqual(thousands);
    expect((await checkDocument(bytes(twice), sealOf(thousands))).lines[0]).toContain('A name stands twice');
  });

  it('agrees where a program wrote its letters and numbers in other ways', async () => {
    const ascii = text.replace(
      /[^ -~]/g,
      (letter) => `\\u${letter.charCodeAt(0).toString(16).padStart(4, '0')}`,
    );
    expect(ascii).not.toBe(text);
    expect((await checkDocument(bytes(ascii), seal)).ok).toBe(true);
  });

  it('is not confirmed without a seal to hold it against', async () => {
    const { ok, lines } = await checkDocument(bytes(text), null);
    expect([ok, lines.length]).toEqual([false, 2]);
    expect(lines[0]).toContain(seal);
  });

  it.each(['', 'no JSON', '[]', 'null', '{"a":1}', '%PDF-1.7', '%PDF-1.7\n%\nxref\n'])(
    'is not %j',
    async (one) => {
      expect((await checkDocument(bytes(one), seal)).ok).toBe(false);
    },
  );

  it('is not held against what is no seal', async () => {
    expect((await checkDocument(bytes(text), 'f00')).lines).toEqual(['A seal is 64 hexadecimal digits.']);
  });
});

describe.each([
  [
    'report',
    () => diversionReport(3),
    () => diversionReportPdf(diversionReport(3), sealOf(diversionReport(3))),
  ],
  ['batch record', () => signedRecord(), () => batchRecordPdf(signedRecord(), sealOf(signedRecord()))],
])('a printed %s', (_, documentOf, draw) => {
  let pdf: Buffer;
  let seal: string;
  const check = (file: Buffer, against: string | null = seal) => checkDocument(file, against);

  beforeAll(async () => {
    pdf = Buffer.from(await draw());
    seal = sealOf(documentOf());
  });

  it('agrees with its seal, and with itself where none is given', async () => {
    expect(await check(pdf)).toMatchObject({ ok: true });
    const alone = await check(pdf, null);
    expect([alone.ok, alone.lines.at(-1)]).toEqual([true, expect.stringContaining('agrees with itself')]);
    expect((await check(pdf, sealOf({}))).ok).toBe(false);
  });

  it('agrees however its streams were packed', async () => {
    const packed = repacked(pdf, (content) => content, 1);
    expect(packed.equals(pdf)).toBe(false);
    expect((await check(packed)).ok).toBe(true);
  });

  it('is found out when the document inside was altered', async () => {
    const altered = repacked(pdf, (content) => content.replace('"version":1', '"version":7'));
    const { ok, lines } = await check(altered);
    expect([ok, lines.at(-1)]).toEqual([false, expect.stringContaining(`That is not ${seal}`)]);
    const alone = await check(altered, null);
    expect([alone.ok, alone.lines[1]]).toEqual([false, expect.stringContaining('The pages are not what')]);
  });

  it('is found out when the pages were altered and the document inside was not', async () => {
    // Text that is there and is not shown.
    const hidden = repacked(pdf, (content) => content.replace(/^BT$/m, 'BT 3 Tr'));
    const { ok, lines } = await check(hidden);
    expect([ok, lines.at(-1)]).toEqual([false, expect.stringContaining('not on the pages')]);
  });

  it('is found out when another table of objects leads past them', async () => {
    const text = pdf.toString('latin1');
    const [first, second] = [...text.matchAll(/\d{10} 00000 n /g)].map(([entry]) => entry);
    const swapped = text.replace(first!, 'A').replace(second!, first!).replace('A', second!);
    expect((await check(Buffer.from(swapped, 'latin1'))).ok).toBe(false);
    const appended = Buffer.concat([pdf, Buffer.from('1 0 obj\n<<\n>>\nendobj\n')]);
    expect((await check(appended)).lines[0]).toContain('is not as Heapwright wrote it');
  });

  it('is found out when a later state was saved behind it, or something put before it', async () => {
    const start = pdf.length;
    const object = '1 0 obj\n<<\n/Type /Catalog\n>>\nendobj\n';
    const table = `xref\n1 1\n${String(start).padStart(10, '0')} 00000 n \n`;
    const trailer = `trailer\n<<\n/Size 2\n/Root 1 0 R\n>>\nstartxref\n${start + object.length}\n%%EOF\n`;
    for (const one of [
      Buffer.concat([pdf, Buffer.from(object + table + trailer)]),
      Buffer.concat([Buffer.from('%PDF-1.7\n'), pdf]),
      Buffer.concat([pdf, Buffer.from('\n')]),
    ]) {
      const { ok, lines } = await check(one);
      expect([ok, lines[0]]).toEqual([false, expect.stringContaining('is not as Heapwright wrote it')]);
    }
  });

  it('is no sealed document as a draft', async () => {
    const draft =
      'batch' in documentOf()
        ? batchRecordPdf(signedRecord(), null)
        : diversionReportPdf(diversionReport(3), null);
    expect((await check(Buffer.from(await draft))).lines[0]).toContain('No sealed document is attached');
  });
});

/** The file with its unpacked streams changed, packed again, and its lengths and offsets mended: as a careful forger would. */
function repacked(pdf: Buffer, change: (content: string) => string, level = 9): Buffer {
  const offsets: number[] = [];
  const text = pdf.toString('latin1');
  const end = text.lastIndexOf('\nxref\n') + 1;
  let at = text.indexOf('\n', text.indexOf('\n') + 1) + 1;
  const pieces = [pdf.subarray(0, at)];
  const written = () => pieces.reduce((sum, piece) => sum + piece.length, 0);
  while (at < end) {
    const head = /(\d+) 0 obj\n/y;
    head.lastIndex = at;
    const id = Number(head.exec(text)![1]);
    const streamAt = text.indexOf('\nstream\n', at);
    const endAt = text.indexOf('\nendobj\n', at);
    offsets[id] = written();
    if (streamAt < 0 || endAt < streamAt) {
      pieces.push(pdf.subarray(at, endAt + 8));
      at = endAt + 8;
      continue;
    }
    const dictionary = text.slice(at, streamAt);
    const length = Number(/^\/Length (\d+)$/m.exec(dictionary)![1]);
    const from = streamAt + 8;
    const packed = pdf.subarray(from, from + length);
    const flate = dictionary.includes('/FlateDecode');
    const content = change((flate ? inflateSync(packed) : packed).toString('latin1'));
    const again = flate
      ? deflateSync(Buffer.from(content, 'latin1'), { level })
      : Buffer.from(content, 'latin1');
    const mended = dictionary.replace(/^\/Length \d+$/m, `/Length ${again.length}`);
    const tail = Buffer.from('\nendstream\nendobj\n');
    pieces.push(Buffer.from(`${mended}\nstream\n`, 'latin1'), again, tail);
    at = from + length + tail.length;
  }
  const table = offsets.slice(1).map((offset) => `${String(offset).padStart(10, '0')} 00000 n \n`);
  const trailer = text.slice(text.indexOf('trailer\n', end), text.lastIndexOf('startxref'));
  const rest = `xref\n0 ${offsets.length}\n0000000000 65535 f \n${table.join('')}${trailer}startxref\n${written()}\n%%EOF\n`;
  return Buffer.concat([...pieces, Buffer.from(rest, 'latin1')]);
}
