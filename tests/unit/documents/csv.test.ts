import { parse } from 'csv-parse/sync';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { csvOf, csvStream, type CsvColumn } from '#libs/documents';

interface Lot {
  material: string;
  netKg: number;
  note: string | null;
}

const columns: CsvColumn<Lot>[] = [
  { title: 'material', cell: ({ material }) => material },
  { title: 'netKg', cell: ({ netKg }) => netKg },
  { title: 'note', cell: ({ note }) => note },
];
const lot = (note: string | null, netKg = 12.5): Lot => ({ material: 'leaves', netKg, note });

async function joined(pieces: AsyncIterable<string>): Promise<string[]> {
  const list: string[] = [];
  for await (const piece of pieces) list.push(piece);
  return list;
}

describe('csvOf', () => {
  it('writes RFC 4180: CRLF after every line, quotes only where needed, doubled quotes inside (§2.1, 2.6, 2.7)', () => {
    expect(csvOf(columns, [lot('wet, "very"'), lot(null), lot('two\nlines'), lot('a\rb')])).toBe(
      'material,netKg,note\r\n' +
        'leaves,12.5,"wet, ""very"""\r\n' +
        'leaves,12.5,\r\n' +
        'leaves,12.5,"two\nlines"\r\n' +
        'leaves,12.5,"a\rb"\r\n',
    );
  });

  it('writes the heading even when there are no rows', () => {
    expect(csvOf(columns, [])).toBe('material,netKg,note\r\n');
  });

  it.each(['=1+1', '+1', '-1', '@SUM(A1)', '\t=1', '\r=1', '＝1'])(
    'keeps a spreadsheet from running %j',
    (note) => {
      const [row] = parse(csvOf(columns, [lot(note)]), { columns: true }) as [{ note: string }];
      expect(row.note).toBe(`'${note}`);
    },
  );

  it('leaves numbers alone, negative ones too', () => {
    expect(csvOf(columns, [lot('plain', -3.25)])).toBe('material,netKg,note\r\nleaves,-3.25,plain\r\n');
  });

  it('writes booleans as words and bigints as digits', () => {
    const mixed: CsvColumn<null>[] = [
      { title: 'yes', cell: () => true },
      { title: 'no', cell: () => false },
      { title: 'big', cell: () => 9007199254740993n },
    ];
    expect(csvOf(mixed, [null])).toBe('yes,no,big\r\ntrue,false,9007199254740993\r\n');
  });

  it('comes back as it went, whatever the text', () => {
    fc.assert(
      fc.property(fc.array(fc.string({ unit: 'grapheme' })), (notes) => {
        const text = csvOf(
          columns,
          notes.map((note) => lot(note)),
        );
        const rows = parse<{ note: string }>(text, { columns: true, record_delimiter: '\r\n' });
        expect(rows.map(({ note }) => note.replace(/^'(?=[=+\-@\t\r＝＋－＠])/, ''))).toEqual(notes);
      }),
      { numRuns: 200 },
    );
  });
});

describe('csvStream', () => {
  it('gives the bytes of csvOf in pieces, the heading first', async () => {
    const lots = Array.from({ length: 1203 }, (_unused, index) => lot(`note ${index}`, index));
    const pieces = await joined(csvStream(columns, lots));
    expect(pieces[0]).toBe('material,netKg,note\r\n');
    expect(pieces.length).toBeGreaterThan(2);
    expect(pieces.join('')).toBe(csvOf(columns, lots));
  });

  it('reads no further than it is asked to', async () => {
    let taken = 0;
    async function* endless(): AsyncGenerator<Lot> {
      for (;;) {
        taken += 1;
        yield await Promise.resolve(lot(null));
      }
    }
    const stream = csvStream(columns, endless());
    await stream.next();
    await stream.next();
    await stream.return();
    expect(taken).toBeLessThan(1000);
  });

  it('passes on what goes wrong with the rows', async () => {
    async function* failing(): AsyncGenerator<Lot> {
      yield await Promise.resolve(lot(null));
      throw new Error('the connection was lost');
    }
    await expect(joined(csvStream(columns, failing()))).rejects.toThrow('the connection was lost');
  });
});
