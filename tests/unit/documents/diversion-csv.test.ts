import { parse } from 'csv-parse/sync';
import { describe, expect, it } from 'vitest';
import { type DiversionReport, diversionReportCsv } from '#libs/documents';
import { diversionReport, emptyDiversionReport } from '../../support/diversion-report.js';

interface Line {
  section: string;
  key: string;
  label: string;
  figure: string;
  value: string;
  unit: string;
}

const linesOf = (report: DiversionReport): Line[] =>
  parse(diversionReportCsv(report), { columns: true, record_delimiter: '\r\n' });

function valueOf(lines: readonly Line[], wanted: Partial<Line>): string {
  const found = lines.filter((line) =>
    Object.entries(wanted).every(([column, text]) => line[column as keyof Line] === text),
  );
  expect(found).toHaveLength(1);
  return found[0]?.value ?? '';
}

/** Every number of a document. */
function numbersOf(value: unknown): number[] {
  if (typeof value === 'number') return [value];
  if (typeof value !== 'object' || value === null) return [];
  return Object.values(value).flatMap(numbersOf);
}

describe('the CSV of a diversion report', () => {
  const report = diversionReport();
  const lines = linesOf(report);

  it('is RFC 4180 in the long form', () => {
    const text = diversionReportCsv(report);
    expect(text.startsWith('section,key,label,figure,value,unit\r\n')).toBe(true);
    expect(text.endsWith('\r\n')).toBe(true);
    expect(text).toBe(diversionReportCsv(diversionReport()));
  });

  it('has every number of the report, as often as the report has it, and no other', () => {
    const { schema: _schema, printed, ...rest } = report;
    const tons = report.amends!.totals.filter(({ unit }) => unit === 'short ton');
    const asTold = [...Object.values(printed), ...tons.flatMap(({ before, after }) => [before, after])];
    const wanted = [...numbersOf(rest), ...asTold.map(Number)].sort((a, b) => a - b);
    const numeric = lines.filter(({ value }) => /^-?\d+(\.\d+)?$/.test(value));
    // the period stands in the report twice, as days; counts, masses and factors are all that is numeric
    expect(numeric.map(({ value }) => Number(value)).sort((a, b) => a - b)).toEqual(wanted);
  });

  it('says of each mass where it belongs and in what unit', () => {
    const { total, bySite, byMonth, byMaterial } = report.figures;
    const accepted = { figure: 'accepted', unit: 'kg' };
    expect(valueOf(lines, { section: 'total', ...accepted })).toBe(String(total.acceptedKg));
    for (const { code, name, acceptedKg } of bySite) {
      expect(valueOf(lines, { section: 'site', key: code, label: name, ...accepted })).toBe(
        String(acceptedKg),
      );
    }
    for (const { month, divertedKg } of byMonth) {
      const wanted = { section: 'month', key: month, figure: 'diverted', unit: 'kg' };
      expect(valueOf(lines, wanted)).toBe(String(divertedKg));
    }
    for (const { material, estimatedKg } of byMaterial) {
      const wanted = { section: 'material', key: material, figure: 'estimated', unit: 'kg' };
      expect(valueOf(lines, wanted)).toBe(String(estimatedKg));
    }
    const tons = { section: 'printed', figure: 'diverted', unit: 'short ton' };
    expect(Number(valueOf(lines, tons))).toBe(Number(report.printed.divertedShortTons));
  });

  it('adds up: months, materials and sites each make the total', () => {
    const sumOf = (section: string): number =>
      lines
        .filter((line) => line.section === section && line.figure === 'diverted')
        .reduce((sum, { value }) => sum + Math.round(Number(value) * 1000), 0);
    const whole = Math.round(report.figures.total.divertedKg * 1000);
    expect([sumOf('month'), sumOf('material'), sumOf('site')]).toEqual([whole, whole, whole]);
  });

  it('leaves empty what is not known, and keeps a figure below zero a number', () => {
    const other = { section: 'greenhouse', label: 'other', figure: 'composting' };
    expect(valueOf(lines, other)).toBe('');
    const food = { section: 'greenhouse', label: 'food', figure: 'composting', unit: 't CO2e' };
    expect(valueOf(lines, food)).toBe('-15.213');
  });

  it('keeps a spreadsheet from running what somebody typed', () => {
    const typed = { ...report, limits: ['=HYPERLINK("http://example.org")'] };
    expect(valueOf(linesOf(typed), { section: 'limit', key: '1' })).toBe(`'=HYPERLINK("http://example.org")`);
  });

  it('tells of an empty report that there was nothing, and prints no rate', () => {
    const empty = linesOf(emptyDiversionReport());
    expect(valueOf(empty, { section: 'total', figure: 'accepted' })).toBe('0');
    expect(valueOf(empty, { section: 'report', figure: 'estimatedShare' })).toBe('');
    expect(empty.filter(({ section }) => section === 'rate')).toEqual([]);
  });
});
