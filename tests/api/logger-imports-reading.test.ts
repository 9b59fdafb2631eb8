import { Temporal } from 'temporal-polyfill';
import { describe, expect, it } from 'vitest';
import { type Table, tableOf, tablePieces, type TableRow } from '../../apps/api/records/import-table.js';
import { LoggerLines, loggerSettingFaults, readTemperature } from '../../apps/api/records/logger-lines.js';
import type { LoggerImportSettingsDto } from '../../apps/api/records/logger-imports.dto.js';
import { LoggerClock } from '../../apps/api/records/logger-times.js';

const zone = 'America/Denver';

async function allPieces(
  text: string,
  delimiter: ',' | ';' | 'tab' = ',',
): Promise<Table & { pieces: number }> {
  const rows: TableRow[] = [];
  let header: string[] = [];
  let pieces = 0;
  for await (const piece of tablePieces(text, delimiter)) {
    header = piece.header;
    rows.push(...piece.rows);
    pieces += 1;
  }
  return { header, rows, pieces };
}

describe('reading a long file piece by piece', () => {
  const odd = 'a,b\n1,"two\nlines"\n\n3\n5,6" deep\n"7,5",x\n';

  it.each([odd, `\uFEFF${odd.replaceAll('\n', '\r\n')}`, odd.slice(0, -1), 'a,b\n', 'a,b'])(
    'tells the same of %j as reading it at once',
    async (text) => {
      const { header, rows } = await allPieces(text);
      expect({ header, rows }).toEqual(tableOf(text, ','));
    },
  );

  it('parts a file at the ends of lines, wherever they fall, and numbers them through', async () => {
    const lines = Array.from({ length: 30_000 }, (_, index) => `${index},"é\n${'x'.repeat(index % 7)}"`);
    const { rows, pieces } = await allPieces(`n,é\n${lines.join('\n')}`);
    expect(pieces).toBeGreaterThan(3);
    expect(rows).toHaveLength(30_000);
    expect(rows[29_999]).toEqual({ line: 60_000, cells: ['29999', `é\n${'x'.repeat(29_999 % 7)}`] });
    expect(rows.filter((row) => 'fault' in row)).toEqual([]);
  });

  it.each([
    ['', 'no line of column names'],
    ['a,a\n1,2\n', 'two columns named "a"'],
    [`a,b\n${'1,2\n'.repeat(30_000)}3,"4\n5,6\n`, 'a quote at or after line 30002 that is not closed'],
  ])('refuses what tableOf refuses', async (text, told) => {
    await expect(allPieces(text)).rejects.toMatchObject({
      errors: [{ pointer: '/csv', detail: expect.stringContaining(told) }],
    });
  });
});

describe('reading the clock of a logger', () => {
  const clock = (facts: Partial<ConstructorParameters<typeof LoggerClock>[0]> = {}) =>
    new LoggerClock({ zone, dateForm: 'year-month-day', repeatedHour: undefined, ...facts });
  const at = (read: ReturnType<LoggerClock['read']>) =>
    read.ok ? new Date(read.value.atMs).toISOString() : read.fault;

  // Clocks of America/Denver in 2025, IANA time zone database: forward on 9 March at 2:00, back on 2 November at 2:00.
  it.each([
    ['2025-03-08', '23:59:59', '2025-03-09T06:59:59.000Z'],
    ['2025-03-09', '01:59', '2025-03-09T08:59:00.000Z'],
    ['2025-03-09', '03:00', '2025-03-09T09:00:00.000Z'],
    ['2025-07-01', '12:00:00.25', '2025-07-01T18:00:00.250Z'],
    ['2025-11-02', '00:59', '2025-11-02T06:59:00.000Z'],
    ['2025-11-02', '02:00', '2025-11-02T09:00:00.000Z'],
    ['2025-07-01', '12:05 AM', '2025-07-01T06:05:00.000Z'],
    ['2025-07-01', '12:05 pm', '2025-07-01T18:05:00.000Z'],
    ['2025-07-01', '1:05PM', '2025-07-01T19:05:00.000Z'],
    ['2025-07-01', '12:00:00Z', '2025-07-01T12:00:00.000Z'],
    ['2025-07-01', '12:00-05:30', '2025-07-01T17:30:00.000Z'],
  ])('takes %s %s', (day, time, instant) => {
    expect(at(clock().read(day, time, undefined))).toBe(instant);
  });

  it.each([
    ['2025-02-30', '12:00', 'does not exist'],
    ['2025-07-01', '24:00', 'is no time of day'],
    ['2025-07-01', '13:00 PM', 'is no time of day'],
    ['2025-07-01', '', 'the time of day is missing'],
    ['01/07/2025', '12:00', 'is no date written as year-month-day'],
    ['2025-03-09', '02:30', 'no clock in America/Denver showed 2025-03-09 02:30'],
    ['2025-11-02', '01:30', 'showed 2025-11-02 01:30 twice, since they were put back: say in repeatedHour'],
  ])('refuses %s %s', (day, time, told) => {
    expect(at(clock().read(day, time, undefined))).toContain(told);
  });

  it('takes a repeated time for the one that is said, or goes through both', () => {
    const once = (repeatedHour: 'earlier' | 'later', time: string) =>
      at(clock({ repeatedHour }).read('2025-11-02', time, undefined));
    expect(once('earlier', '01:30')).toBe('2025-11-02T07:30:00.000Z');
    expect(once('later', '01:30')).toBe('2025-11-02T08:30:00.000Z');
    const inOrder = clock({ repeatedHour: 'in-order' });
    let before: number | undefined;
    const told = ['00:30', '01:00', '01:30', '01:00', '01:30', '02:00'].map((time) => {
      const read = inOrder.read('2025-11-02', time, before);
      if (read.ok) before = read.value.atMs;
      return read.ok && [new Date(read.value.atMs).toISOString().slice(11, 16), read.value.repeated];
    });
    expect(told).toEqual([
      ...[
        ['06:30', false],
        ['07:00', true],
        ['07:30', true],
        ['08:00', true],
        ['08:30', true],
      ],
      ['09:00', false],
    ]);
  });

  it('agrees with the calendar at every half hour of a year, in zones of all sorts', () => {
    for (const name of ['America/Denver', 'Australia/Lord_Howe', 'Asia/Kathmandu', 'UTC', '-07:00']) {
      const one = clock({ zone: name, repeatedHour: 'earlier' });
      let local = Temporal.PlainDateTime.from('2025-01-01T00:00');
      for (; local.year === 2025; local = local.add({ minutes: 30 })) {
        const [day, time] = local.toString({ smallestUnit: 'minute' }).split('T') as [string, string];
        const read = one.read(day, time, undefined);
        const zoned = local.toZonedDateTime(name, { disambiguation: 'earlier' });
        const shown = zoned.toPlainDateTime().equals(local) ? zoned.epochMilliseconds : null;
        expect(read.ok ? read.value.atMs : null, `${name} ${day} ${time}`).toBe(shown);
      }
    }
  });
});

describe('reading a temperature', () => {
  it.each([
    ['61.3', '.', 'C', 613],
    ['-5', '.', 'C', -50],
    ['\u22125,25', ',', 'C', -52],
    ['+140', '.', 'F', 600],
    ['-40', '.', 'F', -400],
  ] as const)('%s with "%s" in %s', (cell, mark, unit, deciC) => {
    expect(readTemperature(cell, mark, unit)).toEqual({ ok: true, value: deciC });
  });

  it.each([
    ['61,3', '.', 'is no plain number with a point'],
    ['61.3', ',', 'is no plain number with a comma'],
    ['NaN', '.', 'name it in noReading'],
    ['1e3', '.', 'is no plain number'],
    ['61.3 °C', '.', 'is no plain number'],
    ['-300', '.', 'is colder than can be'],
  ] as const)('not %s with "%s"', (cell, mark, told) => {
    expect(readTemperature(cell, mark, 'C')).toEqual({ ok: false, fault: expect.stringContaining(told) });
  });
});

describe('reading the lines of a logger', () => {
  const base = { deviceId: 'any', bay: 'A1', unit: 'C' } as const;
  const wide = {
    ...base,
    columns: { time: 'Time' },
    probes: [
      { name: 'P1', position: 'core-1' },
      { name: 'P2', position: 'core-2' },
    ],
    noReading: ['---'],
  };
  const long = {
    ...base,
    columns: { day: 'Date', time: 'Time', probe: 'Sensor', temperature: 'Value' },
    probes: [
      { name: '1', position: 'core-1' },
      { name: '2', position: 'core-2' },
    ],
  };
  const read = (settings: LoggerImportSettingsDto, text: string) => {
    const { header, rows } = tableOf(text, ',');
    const lines = new LoggerLines(header, settings, zone);
    return rows.map((row) => lines.read(row));
  };
  const atMs = Date.parse('2025-07-01T18:00:00Z');

  it('takes a column for every probe, and an empty cell for no reading', () => {
    const [line, blank] = read(wide, 'Time,P1,Other,P2\n2025-07-01 12:00,61.3,x,---\nlater,,x,---\n');
    expect(line).toEqual({
      line: 2,
      readings: [{ line: 2, column: 'P1', probe: 0, atMs, temperatureDeciC: 613 }],
      ...{ faults: [], blank: 1, repeated: false },
    });
    expect(blank).toMatchObject({ readings: [], faults: [], blank: 2 });
  });

  it('tells a bad cell by its line and column, beside the good ones', () => {
    const [line, noTime, ragged] = read(wide, 'Time,P1,P2\n2025-07-01T12:00,ERR,60\nnoon,60,61\n1,2\n');
    expect(line?.readings).toMatchObject([{ column: 'P2', temperatureDeciC: 600 }]);
    expect(line?.faults).toEqual([{ line: 2, column: 'P1', detail: expect.stringContaining('"ERR"') }]);
    expect(noTime).toMatchObject({ readings: [], faults: [{ line: 3, column: 'Time' }] });
    expect(ragged?.faults).toEqual([
      { line: 4, column: null, detail: expect.stringContaining('has 2 cells') },
    ]);
  });

  it('takes a line for every reading, each probe with a course of its own through the repeated hour', () => {
    const day = '2025-11-02';
    const lines = ['01:30,1', '01:30,2', '01:30,1', '01:30,2'].map((rest) => `${day},${rest},60`);
    const told = read({ ...long, repeatedHour: 'in-order' }, `Date,Time,Sensor,Value\n${lines.join('\n')}\n`);
    const hours = told.map(({ readings: [one], repeated }) => [
      one?.probe,
      new Date(one?.atMs ?? 0).toISOString().slice(11, 16),
      repeated,
    ]);
    expect(hours).toEqual([
      [0, '07:30', true],
      [1, '07:30', true],
      [0, '08:30', true],
      [1, '08:30', true],
    ]);
  });

  it('refuses a probe that the settings do not name', () => {
    const faults = read(long, 'Date,Time,Sensor,Value\n2025-07-01,12:00,9,60\n2025-07-01,12:00,,60\n').map(
      (line) => line.faults[0],
    );
    expect(faults).toEqual([
      { line: 2, column: 'Sensor', detail: 'no probe is named for "9"' },
      { line: 3, column: 'Sensor', detail: 'the probe is blank' },
    ]);
  });

  it('refuses settings that do not fit the file', () => {
    expect(loggerSettingFaults(wide, ['Time', 'P1'])).toEqual([
      { pointer: '/probes/1/name', detail: 'names no column of the file; it has "Time", "P1"' },
    ]);
    expect(loggerSettingFaults(long, ['Date', 'Time', 'Sensor'])).toMatchObject([
      { pointer: '/columns/temperature' },
    ]);
    const half = { ...wide, columns: { time: 'Time', temperature: 'P1' } };
    expect(loggerSettingFaults(half, ['Time', 'P1', 'P2'])).toMatchObject([{ pointer: '/columns/probe' }]);
    const [first] = long.probes;
    const twice = { ...long, probes: first ? [first, first] : [] };
    expect(loggerSettingFaults(twice, ['Date', 'Time', 'Sensor', 'Value'])).toEqual([
      { pointer: '/probes/1/name', detail: 'is named twice' },
    ]);
  });
});
