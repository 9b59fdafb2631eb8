import { describe, expect, it } from 'vitest';
import { Temporal } from 'temporal-polyfill';
import { readAmount, readInstant, readMoment } from '../../apps/api/records/import-cells.js';
import { LINES_MAX, tableOf, textOf } from '../../apps/api/records/import-table.js';

const refusal = (work: () => unknown): unknown => {
  try {
    work();
  } catch (problem) {
    return (problem as { errors: unknown }).errors;
  }
  throw new Error('nothing was refused');
};
const latin1 = (text: string) => Buffer.from(text, 'latin1');

describe('reading a file', () => {
  it('takes UTF-8, with or without a byte order mark, and tells the line that is not', () => {
    const bytes = Buffer.from('\uFEFFdate,lb\n2024-01-01,3\n');
    expect(tableOf(textOf(bytes), ',').header).toEqual(['date', 'lb']);
    expect(tableOf('\uFEFFdate,lb\n', ',').header).toEqual(['date', 'lb']);
    const refused = refusal(() => textOf(latin1('date,hub\n2024-01-01,Mill\n2024-01-02,Café Vert\n')));
    expect(refused).toEqual([{ pointer: '/csvBase64', detail: expect.stringMatching(/^line 3 .*Latin-1/) }]);
    expect(refusal(() => textOf(latin1('hub\nCafé')))).toMatchObject([{ pointer: '/csvBase64' }]);
    expect(refusal(() => textOf(Uint8Array.of(0xff, 0xfe, 0x64, 0x00)))).toMatchObject([
      { detail: expect.stringMatching(/^line 1 /) },
    ]);
  });

  it.each(['\n', '\r\n', '\r'])('numbers lines as an editor does, line end %j', (end) => {
    const text = ['date,note', '1,"two', 'lines"', '', ' , ', '4,x', ''].join(end);
    expect(tableOf(text, ',')).toEqual({
      header: ['date', 'note'],
      rows: [
        { line: 2, cells: ['1', 'two\nlines'] },
        { line: 6, cells: ['4', 'x'] },
      ],
    });
  });

  it('keeps a ragged line and a line with a stray quote as faults', () => {
    const { rows } = tableOf('a,b\n1\n1,2,3\n5,6" deep\n"1,234.5",x\n', ',');
    expect(rows).toEqual([
      { line: 2, fault: 'has 1 cells; the first line names 2 columns' },
      { line: 3, fault: 'has 3 cells; the first line names 2 columns' },
      { line: 4, fault: expect.stringContaining('quote') },
      { line: 5, cells: ['1,234.5', 'x'] },
    ]);
  });

  it('refuses a file of which a part would be swallowed, and one without clear columns', () => {
    const at = (text: string) => refusal(() => tableOf(text, ','));
    expect(at('a,b\n1,2\n3,"4\n5,6\n')).toEqual([
      { pointer: '/csv', detail: 'has a quote at or after line 3 that is not closed; nothing was read' },
    ]);
    expect(at('a,b\n1,"x"y\n3,4\n')).toMatchObject([{ detail: expect.stringContaining('line 3') }]);
    expect(at('')).toMatchObject([{ detail: expect.stringContaining('no line of column names') }]);
    expect(at('\n \n')).toMatchObject([{ detail: expect.stringContaining('no line of column names') }]);
    expect(at('a,b,a\n')).toEqual([{ pointer: '/csv', detail: 'has two columns named "a"' }]);
    expect(at(`a\n${'1\n'.repeat(LINES_MAX + 1)}`)).toMatchObject([
      { detail: expect.stringContaining('part') },
    ]);
  });

  it('parts cells by semicolon or tab where it is told so', () => {
    expect(tableOf('a;b\n1,5;2\n', ';').rows).toEqual([{ line: 2, cells: ['1,5', '2'] }]);
    expect(tableOf('a\tb\n1,5\t2\n', 'tab').rows).toEqual([{ line: 2, cells: ['1,5', '2'] }]);
  });
});

describe('reading a local time', () => {
  const read = (local: string, zone: string) => readInstant(Temporal.PlainDateTime.from(local), zone);

  // Clocks of America/Denver in 2025, IANA time zone database: forward on 9 March at 2:00, back on 2 November at 2:00.
  it.each([
    ['2025-03-09T01:59', '2025-03-09T08:59:00Z'],
    ['2025-03-09T03:00', '2025-03-09T09:00:00Z'],
    ['2025-11-02T00:59', '2025-11-02T06:59:00Z'],
    ['2025-11-02T02:00', '2025-11-02T09:00:00Z'],
  ])('takes %s', (local, instant) => {
    const taken = read(local, 'America/Denver');
    expect(taken.ok && taken.value.toString()).toBe(instant);
  });

  it('refuses a time that no clock showed, or that clocks showed twice', () => {
    expect(read('2025-03-09T02:30', 'America/Denver')).toEqual({
      ok: false,
      fault:
        'no clock in America/Denver showed 2025-03-09 02:30, since they were put forward: look at the paper again, ' +
        'and mend the time',
    });
    expect(read('2025-11-02T01:30', 'America/Denver')).toEqual({
      ok: false,
      fault:
        'clocks in America/Denver showed 2025-11-02 01:30 twice, since they were put back: leave the line out, and ' +
        'enter the lot by hand as 2025-11-02T01:30-06:00 or 2025-11-02T01:30-07:00',
    });
    expect(read('2025-11-02T01:30', 'UTC').ok).toBe(true);
  });
});

describe('reading a mass', () => {
  it.each([
    ['0.0', '.', 0],
    ['59', '.', 59],
    ['1,234.5', '.', 1234.5],
    ['1234567.125', '.', 1_234_567.125],
    ['.5', '.', 0.5],
    ['1.234,5', ',', 1234.5],
    ['1 234,5', ',', 1234.5],
    ['0,5', ',', 0.5],
  ] as const)('%s with "%s"', (cell, mark, value) => {
    expect(readAmount(cell, mark)).toEqual({ ok: true, value });
  });

  it.each([
    ['', '.'],
    ['-3', '.'],
    ['1e999', '.'],
    ['NaN', '.'],
    ['Infinity', '.'],
    ['12 lb', '.'],
    ['0,5', '.'],
    ['1,23.5', '.'],
    ['12,34,567', '.'],
    ['1.5', ','],
    ['1.2.3', '.'],
    ['.', '.'],
    ['5.', '.'],
    ['٣', '.'],
  ] as const)('refuses %j with "%s"', (cell, mark) => {
    expect(readAmount(cell, mark)).toMatchObject({ ok: false, fault: expect.stringMatching(/\S/) });
  });
});

describe('reading a date', () => {
  const told = (cell: string, form: Parameters<typeof readMoment>[1]) => {
    const read = readMoment(cell, form, '12:00');
    return read.ok ? read.value.toString() : read.fault;
  };

  it('takes the day in the form that was named, and a time where there is one', () => {
    expect(told('2024-02-29', 'year-month-day')).toBe('2024-02-29T12:00:00');
    expect(told('2024-02-29T08:05', 'year-month-day')).toBe('2024-02-29T08:05:00');
    expect(told('3/4/2024', 'month-day-year')).toBe('2024-03-04T12:00:00');
    expect(told('3.4.2024 17:30:15', 'day-month-year')).toBe('2024-04-03T17:30:15');
  });

  it.each([
    ['', 'blank'],
    ['2023-02-29', 'does not exist'],
    ['2024-13-01', 'does not exist'],
    ['2024-01-01 25:00', 'does not exist'],
    ['5 March 2024', 'in digits'],
    ['03/05/24', 'in digits'],
    ['2024-01-01 noon', 'in digits'],
    ['45322', 'in digits'],
  ])('refuses %j', (cell, why) => {
    expect(told(cell, 'year-month-day')).toContain(why);
  });
});
