import { createHash } from 'node:crypto';
import { canonicalJson } from '#libs/documents';
import { type Mass, type MassUnit, massToG } from '#libs/quantities';
import type { Fault } from '../http/problems/catalogue.js';
import { readAmount, readInstant, readMoment, shown } from './import-cells.js';
import type { Table, TableRow } from './import-table.js';
import type { ImportColumnsDto, ImportSettingsDto, ImportSiteDto } from './imports.dto.js';

/** A lot as it would be typed in. */
export interface LineEntry {
  siteId: string;
  occurredAt: string;
  material: string;
  depositor: string;
  weight: { net: Mass };
  jurisdictionId?: string;
  instrumentId?: string;
  note?: string;
}

export interface ReadLine {
  line: number;
  faults: string[];
  /** Null where there is a fault. */
  entry: LineEntry | null;
}

type Column = keyof ImportColumnsDto;
type Cells = Partial<Record<Column, string>>;

const named = <T extends { name?: string }>(list: readonly T[] | undefined, name: string): T | undefined =>
  list?.find((one) => one.name?.trim() === name);

/** What of the settings does not fit the file or itself, at JSON Pointers. */
export function settingFaults(settings: ImportSettingsDto, { header }: Pick<Table, 'header'>): Fault[] {
  const { columns, sites, defaults } = settings;
  const faults: Fault[] = [];
  const fault = (pointer: string, detail: string) => void faults.push({ pointer, detail });
  for (const [column, title] of Object.entries(columns)) {
    if (title !== undefined && !header.includes(title as string)) {
      fault(
        `/columns/${column}`,
        `names no column of the file; it has ${header.map((name) => `"${shown(name)}"`).join(', ')}`,
      );
    }
  }
  if (columns.site === undefined) {
    if (sites.length > 1) fault('/sites', 'must be one, since no column names the site');
  } else {
    sites.forEach(({ name }, index) => {
      if (name === undefined) fault(`/sites/${index}/name`, 'is missing: the file names its sites');
    });
  }
  for (const list of ['sites', 'materials', 'jurisdictions'] as const) {
    const names = (settings[list] ?? []).map(({ name }) => name?.trim());
    names.forEach((name, index) => {
      if (names.indexOf(name) < index) fault(`/${list}/${index}/name`, 'is named twice');
    });
  }
  for (const field of ['material', 'depositor'] as const) {
    if (columns[field] === undefined && defaults?.[field] === undefined) {
      fault(`/defaults/${field}`, 'is missing, and no column tells it');
    }
  }
  return faults;
}

/** Every line as an entry, or with its faults. `zoneOf` is the time zone of a site. */
export function readLines(
  { header, rows }: Table,
  settings: ImportSettingsDto,
  zoneOf: (siteId: string) => string,
): ReadLine[] {
  const places = Object.entries(settings.columns) as [Column, string | undefined][];
  const indexes = places.flatMap(([column, title]) =>
    title === undefined ? [] : [[column, header.indexOf(title)] as const],
  );
  return rows.map((row) => {
    if ('fault' in row) return { line: row.line, faults: [row.fault], entry: null };
    const cells = Object.fromEntries(indexes.map(([column, index]) => [column, row.cells[index]])) as Cells;
    return readLine(row, cells, settings, zoneOf);
  });
}

function readLine(
  { line }: TableRow,
  cells: Cells,
  settings: ImportSettingsDto,
  zoneOf: (siteId: string) => string,
): ReadLine {
  const faults: string[] = [];
  const site = siteOf(cells.site, settings, faults);
  const { localTime = '12:00' } = settings.defaults ?? {};
  const moment = readMoment(cells.date ?? '', settings.dateForm ?? 'year-month-day', localTime);
  if (!moment.ok) faults.push(moment.fault);
  const amount = readAmount(cells.mass ?? '', settings.decimalMark ?? '.');
  if (!amount.ok) faults.push(amount.fault);
  else if (gramsIn(settings.massUnit, amount.value) > LOT_MOST_G) faults.push('the mass is more than 50 t');
  const material = materialOf(cells.material, settings, faults);
  const jurisdictionId = jurisdictionOf(cells.jurisdiction, settings, faults);
  const depositor = cells.depositor || settings.defaults?.depositor;
  if (!depositor) faults.push('the depositor is blank');
  const at = site && moment.ok ? readInstant(moment.value, zoneOf(site.siteId)) : null;
  if (at && !at.ok) faults.push(at.fault);
  if (!site || !at?.ok || !amount.ok || !material || !depositor || faults.length > 0) {
    return { line, faults, entry: null };
  }
  return {
    line,
    faults,
    entry: {
      siteId: site.siteId,
      occurredAt: at.value.toString(),
      material,
      depositor,
      weight: { net: { value: amount.value, unit: settings.massUnit } },
      ...(jurisdictionId === undefined ? {} : { jurisdictionId }),
      ...(site.instrumentId === undefined ? {} : { instrumentId: site.instrumentId }),
      ...(cells.note ? { note: cells.note } : {}),
    },
  };
}

function siteOf(
  cell: string | undefined,
  { sites }: ImportSettingsDto,
  faults: string[],
): ImportSiteDto | undefined {
  if (cell === undefined) return sites[0];
  const site = named(sites, cell);
  if (!site) faults.push(cell === '' ? 'the site is blank' : `no site is named for "${shown(cell)}"`);
  return site;
}

/** A cell that is in no list is taken as the code itself, and held against the accepted materials later. */
function materialOf(
  cell: string | undefined,
  settings: ImportSettingsDto,
  faults: string[],
): string | undefined {
  if (!cell) {
    const { material } = settings.defaults ?? {};
    if (material === undefined) faults.push('the material is blank');
    return material;
  }
  return named(settings.materials, cell)?.code ?? cell;
}

function jurisdictionOf(
  cell: string | undefined,
  settings: ImportSettingsDto,
  faults: string[],
): string | undefined {
  if (!cell) return settings.defaults?.jurisdictionId;
  const jurisdiction = named(settings.jurisdictions, cell);
  if (!jurisdiction) faults.push(`no jurisdiction is named for "${shown(cell)}"`);
  return jurisdiction?.jurisdictionId;
}

/** More than any truck takes, as for a lot that is typed in. */
const LOT_MOST_G = 50_000_000;

function gramsIn(unit: MassUnit, value: number): number {
  return value > Number.MAX_SAFE_INTEGER / 1e6 ? Infinity : massToG({ value, unit });
}

export interface Keyed {
  /** How many lines equal to this one came before it in the file, plus one. */
  occurrence: number;
  /** The first line equal to this one; null where it is itself the first. */
  sameAs: number | null;
  /** By which the line is known when it comes again: its facts, and its count among equal lines. */
  key: Buffer;
}

/**
 * Tells equal lines of one file apart by counting them: two equal lines are two lots, and the same file again has the
 * same two. A note is no part of it, so that a later export with a mended note is still known.
 */
export function keysOf(lines: readonly ReadLine[]): Map<number, Keyed> {
  const seen = new Map<string, { first: number; count: number }>();
  const keys = new Map<number, Keyed>();
  for (const { line, entry } of lines) {
    if (!entry) continue;
    const { siteId, occurredAt, material, depositor, jurisdictionId = null, weight } = entry;
    const facts = canonicalJson([
      siteId.toLowerCase(),
      occurredAt,
      material,
      depositor,
      jurisdictionId?.toLowerCase() ?? null,
      massToG(weight.net),
    ]);
    const before = seen.get(facts) ?? { first: line, count: 0 };
    const occurrence = before.count + 1;
    seen.set(facts, { ...before, count: occurrence });
    const key = createHash('sha256').update(`${facts}#${occurrence}`).digest();
    keys.set(line, { occurrence, sameAs: occurrence === 1 ? null : before.first, key });
  }
  return keys;
}
