import { type TemperatureUnit, temperatureToDeciC } from '#libs/quantities';
import type { Fault } from '../http/problems/catalogue.js';
import { type DecimalMark, type Read, shown } from './import-cells.js';
import type { TableRow } from './import-table.js';
import type { LoggerImportSettingsDto } from './logger-imports.dto.js';
import { LoggerClock } from './logger-times.js';

/** One reading of a file. */
export interface LoggerCell {
  line: number;
  /** Title of the column that its figure stands in. */
  column: string;
  /** Which of the probes that the settings name. */
  probe: number;
  atMs: number;
  temperatureDeciC: number;
}

export interface CellFault {
  line: number;
  /** Title of the column; null where the whole line is meant. */
  column: string | null;
  detail: string;
}

/** What a line says. Readings beside a fault are told too, and kept only with the whole file. */
export interface LoggerLine {
  line: number;
  readings: LoggerCell[];
  faults: CellFault[];
  /** Cells that hold no reading. */
  blank: number;
  /** Whether its local time was shown twice by clocks. */
  repeated: boolean;
}

/** What of the settings does not fit the file or itself, at JSON Pointers. */
export function loggerSettingFaults(settings: LoggerImportSettingsDto, header: readonly string[]): Fault[] {
  const { columns, probes } = settings;
  const isLong = columns.probe !== undefined;
  const titles = [
    ...Object.entries(columns).map(([column, title]) => [`/columns/${column}`, title as string | undefined]),
    ...(isLong ? [] : probes.map(({ name }, index) => [`/probes/${index}/name`, name])),
  ] as [string, string | undefined][];
  const unnamed = titles.flatMap(([pointer, title]): Fault[] => {
    if (title === undefined || header.includes(title)) return [];
    const named = header.map((name) => `"${shown(name)}"`).join(', ');
    return [{ pointer, detail: `names no column of the file; it has ${named}` }];
  });
  const names = probes.map(({ name }) => name);
  const twice = names.flatMap((name, index): Fault[] =>
    names.indexOf(name) < index ? [{ pointer: `/probes/${index}/name`, detail: 'is named twice' }] : [],
  );
  const half = isLong === (columns.temperature !== undefined);
  const detail = 'goes with the column of the other: one says which probe it was, one what it showed';
  return [...unnamed, ...twice, ...(half ? [] : [{ pointer: '/columns/probe', detail }])];
}

interface NamedCell {
  column: string;
  probe: number;
  cell: string;
}

/** Reads the lines of one file, one after the other. */
export class LoggerLines {
  private readonly clock: LoggerClock;
  private readonly noReading: Set<string>;
  private readonly probes: Map<string, number>;
  private readonly before = new Map<number, number>();
  /** A file of half a million lines has a few thousand different figures. */
  private readonly figures = new Map<string, Read<number>>();

  constructor(
    private readonly header: readonly string[],
    private readonly settings: LoggerImportSettingsDto,
    siteZone: string,
  ) {
    const { timeZone: zone = siteZone, dateForm = 'year-month-day', repeatedHour } = settings;
    this.clock = new LoggerClock({ zone, dateForm, repeatedHour });
    this.noReading = new Set(['', ...(settings.noReading ?? [])]);
    this.probes = new Map(settings.probes.map(({ name }, index) => [name, index]));
  }

  read(row: TableRow): LoggerLine {
    const { line } = row;
    const nothing: LoggerLine = { line, readings: [], faults: [], blank: 0, repeated: false };
    const refused = (column: string | null, detail: string) => ({
      ...nothing,
      faults: [{ line, column, detail }],
    });
    if ('fault' in row) return refused(null, row.fault);
    const { probe: probeColumn, time: timeColumn } = this.settings.columns;
    const named = this.namedIn(row.cells);
    if (typeof named === 'string') return refused(probeColumn ?? null, named);
    const told = named.filter(({ cell }) => !this.noReading.has(cell));
    const blank = named.length - told.length;
    const [first] = told;
    if (!first) return { ...nothing, blank };
    // One line of many probes has one time; in the long form every probe has its own course.
    const course = probeColumn === undefined ? -1 : first.probe;
    const at = this.timeIn(row.cells, this.before.get(course));
    if (!at.ok) return { ...refused(timeColumn, at.fault), blank };
    const { atMs, repeated } = at.value;
    this.before.set(course, atMs);
    const said = { ...nothing, blank, repeated };
    for (const { column, probe, cell } of told) {
      const read = this.figureOf(cell);
      if (read.ok) said.readings.push({ line, column, probe, atMs, temperatureDeciC: read.value });
      else said.faults.push({ line, column, detail: read.fault });
    }
    return said;
  }

  /** The cells of a line with their probes; or why it has none. */
  private namedIn(cells: readonly string[]): NamedCell[] | string {
    const { columns, probes } = this.settings;
    if (columns.probe === undefined || columns.temperature === undefined) {
      return probes.map(({ name }, probe) => ({ column: name, probe, cell: this.cell(cells, name) }));
    }
    const name = this.cell(cells, columns.probe);
    const probe = this.probes.get(name);
    if (probe === undefined)
      return name === '' ? 'the probe is blank' : `no probe is named for "${shown(name)}"`;
    return [{ column: columns.temperature, probe, cell: this.cell(cells, columns.temperature) }];
  }

  private timeIn(cells: readonly string[], previousMs: number | undefined) {
    const { columns } = this.settings;
    const time = this.cell(cells, columns.time);
    if (columns.day !== undefined) return this.clock.read(this.cell(cells, columns.day), time, previousMs);
    const gap = time.search(/[T ]/i);
    const [day, rest] = gap < 0 ? [time, ''] : [time.slice(0, gap), time.slice(gap + 1).trim()];
    return this.clock.read(day, rest, previousMs);
  }

  private cell(cells: readonly string[], title: string): string {
    return cells[this.header.indexOf(title)] ?? '';
  }

  private figureOf(cell: string): Read<number> {
    const known = this.figures.get(cell);
    if (known) return known;
    const read = readTemperature(cell, this.settings.decimalMark ?? '.', this.settings.unit);
    if (this.figures.size < FIGURES_KEPT) this.figures.set(cell, read);
    return read;
  }
}

const FIGURES_KEPT = 10_000;

const NUMBER: Record<DecimalMark, RegExp> = {
  '.': /^[+\-\u2212]?\d{1,6}(?:\.\d{1,9})?$/,
  ',': /^[+\-\u2212]?\d{1,6}(?:,\d{1,9})?$/,
};

/** Tenths of °C. */
export function readTemperature(cell: string, mark: DecimalMark, unit: TemperatureUnit): Read<number> {
  if (!NUMBER[mark].test(cell)) {
    const mind = mark === '.' ? 'a point' : 'a comma';
    return {
      ok: false,
      fault:
        `"${shown(cell)}" is no plain number with ${mind} before the decimals; where the logger means no reading by it, ` +
        'name it in noReading',
    };
  }
  const value = Number(cell.replace('\u2212', '-').replace(',', '.'));
  try {
    return { ok: true, value: temperatureToDeciC({ value, unit }) };
  } catch {
    return { ok: false, fault: `${shown(cell)} ${unit} is colder than can be` };
  }
}
