import decodeQR from 'qr/decode.js';
import { describe, expect, it } from 'vitest';
import { codeOf, type CompostLabel, compostLabelPdf, HOW_TO_USE, type LabelUse } from '#libs/documents';
import { run, textOf } from './programs.js';

/** Every place, organisation and person here is invented. */
const label: CompostLabel = {
  programme: 'Ottermere Valley Community Compost',
  site: 'Alder Lane hub and yard',
  batch: 'AL-26-004',
  code: 'AL-26-004/3',
  on: '2026-05-09',
  massKg: 60.733,
  volumeL: 108.5,
  weighed: false,
  use: 'vegetable-beds',
  recordUrl: `https://compost.ottermere.example/record/${'c2a7c1d86f0a2bf1'.repeat(4)}`,
};

/** What a reader of codes sees of the path, at so many pixels a module. */
function readCode(text: string): string {
  const { size, path } = codeOf(text);
  const scale = 4;
  const side = size * scale;
  const data = new Uint8Array(side * side * 4).fill(255);
  for (const [, x, y, length] of path.matchAll(/M(\d+) (\d+)h(\d+)v1h-\d+Z/g)) {
    for (let row = Number(y) * scale; row < (Number(y) + 1) * scale; row += 1) {
      const from = (row * side + Number(x) * scale) * 4;
      for (let at = from; at < from + Number(length) * scale * 4; at += 4) data.fill(0, at, at + 3);
    }
  }
  return decodeQR({ width: side, height: side, data });
}

describe('the code of a label', () => {
  it.each([label.recordUrl ?? '', 'A', 'https://example.org/ü?x=1&y=%20'])('reads back as %s', (text) => {
    expect(readCode(text)).toBe(text);
  });

  it('keeps its quiet zone of four modules on every side (ISO/IEC 18004)', () => {
    const { size, path } = codeOf('A');
    expect(size).toBe(21 + 8); // version 1 has 21 modules
    for (const [, x, y, length] of path.matchAll(/M(\d+) (\d+)h(\d+)/g)) {
      expect(Math.min(Number(x), Number(y))).toBeGreaterThanOrEqual(4);
      expect(Math.max(Number(x) + Number(length), Number(y) + 1)).toBeLessThanOrEqual(size - 4);
    }
  });

  it('refuses an address that no code can hold', () => {
    expect(() => codeOf('x'.repeat(5000))).toThrow();
  });
});

describe('a label', () => {
  it('tells code, date, batch, how much, how to use it and what to take care of', async () => {
    const text = textOf(await compostLabelPdf(label));
    if (text === null) return;
    for (const said of [
      'AL-26-004/3',
      '108.5 L (60.733 kg, estimated)',
      'Handed out on 2026-05-09, of batch AL-26-004',
      'Alder Lane hub and yard',
      'How to use it: vegetable beds',
      'Wear gloves',
      'It is not sterile',
      'Herbicide residue',
      'The local permit and the local authority govern',
      'https://compost.ottermere.example/',
    ]) {
      expect(text).toContain(said);
    }
  });

  it('has no code where the record is not shown to everybody, and says whom to ask', async () => {
    const pdf = await compostLabelPdf({ ...label, recordUrl: null, volumeL: null, weighed: true });
    const text = textOf(pdf);
    if (text === null) return;
    expect(text).toContain('60.733 kg Handed out');
    expect(text).toContain('Ask Ottermere Valley Community Compost for the record of batch AL-26-004.');
    expect(text).not.toContain('Scan');
    expect(run(pdf, 'qpdf', '--json', 'FILE') ?? '').not.toContain('QR code');
  });

  it.each(Object.keys(HOW_TO_USE) as LabelUse[])('for %s takes one page, whatever the names', async (use) => {
    const long = 'Quarrymen’s and Millwrights’ Allotment Society of Upper and Lower Ottermere '.repeat(2);
    const pdf = await compostLabelPdf({
      ...label,
      use,
      programme: long,
      site: long,
      batch: 'OTTERMERE-2026-0004',
    });
    const info = run(pdf, 'pdfinfo', 'FILE');
    if (info !== null) expect(info).toMatch(/Pages: +1\n/);
    if (info !== null) expect(info).toContain('Page size:       288 x 419.5 pts');
  });

  it('has the same bytes for the same label, and is sound to qpdf', async () => {
    const [first, second] = [await compostLabelPdf(label), await compostLabelPdf(label)];
    expect(Buffer.compare(first, second)).toBe(0);
    const verdict = run(first, 'qpdf', '--check', 'FILE');
    if (verdict !== null) expect(verdict).toContain('No syntax or stream encoding errors found');
  });
});
