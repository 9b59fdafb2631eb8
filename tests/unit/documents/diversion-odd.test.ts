import { parse } from 'csv-parse/sync';
import { beforeAll, describe, expect, it } from 'vitest';
import type { DivertedMasses } from '#libs/accounting';
import { type DiversionReport, diversionReportCsv, diversionReportPdf, sealOf } from '#libs/documents';
import { diversionReport } from '../../support/diversion-report.js';
import { run, textOf } from './programs.js';

/** Every place and organisation here is invented. */

const LONG = 'Compostería del Ñandú, Peñón y Güíjar de la Ribera de Arriba '.repeat(3).trim();
const nothing: DivertedMasses = {
  ...{ lots: 0, acceptedKg: 0, weighedKg: 0, sharedKg: 0, estimatedKg: 0, pulledKg: 0 },
  ...{ residueKg: 0, landfilledKg: 0, divertedKg: 0, elsewhereKg: 0 },
};
const residueAlone = { ...nothing, residueKg: 1234.5, landfilledKg: 1234.5, divertedKg: -1234.5 };
const typed = ['=1+1', '+1', '-1+2', '@SUM(A1)', LONG];

/** Names as somebody may type them, a month in which nothing came, and one in which only residue left. */
function oddReport(): DiversionReport {
  const report = diversionReport(8);
  const { figures } = report;
  const months = [nothing, residueAlone];
  return {
    ...report,
    programme: { name: LONG },
    figures: {
      ...figures,
      byMonth: figures.byMonth.map((one, at) => ({ ...one, ...months[at], month: one.month })),
      bySite: figures.bySite.map((one, at) => ({ ...one, name: typed[at] ?? one.name })),
    },
  };
}

describe('an odd report', () => {
  const report = oddReport();
  let pdf: Uint8Array;
  beforeAll(async () => {
    pdf = await diversionReportPdf(report, sealOf(report));
  });

  it('is a sound document with every name whole, and letter by letter', () => {
    const verdict = run(pdf, 'qpdf', '--check', 'FILE');
    if (verdict !== null) expect(verdict).toContain('No syntax or stream encoding errors found');
    const text = textOf(pdf);
    if (text === null) return;
    expect(text).toContain(`Reported by ${LONG}`);
    for (const name of typed.slice(0, 4)) expect(text).toContain(name);
    expect(text).not.toContain('\ufffd');
  });

  it('prints a month of nothing as nothing, and one of residue alone below it', () => {
    const text = textOf(pdf);
    if (text === null) return;
    const [first, second] = report.figures.byMonth;
    expect(text).toContain(`${first!.month} 0 0 0 0`);
    expect(text).toContain(`${second!.month} 0 0 1234.5 -1234.5`);
  });

  it('gives a spreadsheet no name to run, and its figures as numbers', () => {
    const lines: Record<string, string>[] = parse(diversionReportCsv(report), { columns: true });
    const names = lines.filter(({ section, figure }) => section === 'site' && figure === 'lots');
    expect(names.slice(0, 5).map(({ label }) => label)).toEqual([
      ...typed.slice(0, 4).map((name) => `'${name}`),
      LONG,
    ]);
    const below = lines.filter(({ value }) => value === '-1234.5');
    expect(below).toMatchObject([{ section: 'month', figure: 'diverted', unit: 'kg' }]);
  });
});
