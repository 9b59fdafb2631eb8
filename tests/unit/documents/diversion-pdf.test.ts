import { describe, expect, it } from 'vitest';
import { canonicalJson, type DiversionReport, diversionReportPdf, sealOf } from '#libs/documents';
import { diversionReport, emptyDiversionReport } from '../../support/diversion-report.js';
import { run, textOf } from './programs.js';

const sealed = (report: DiversionReport): Promise<Uint8Array> => diversionReportPdf(report, sealOf(report));

/** Every number in the report with the path to it. */
function numbersOf(value: unknown, path = ''): { path: string; value: number }[] {
  if (typeof value === 'number') return [{ path, value }];
  if (typeof value !== 'object' || value === null) return [];
  return Object.entries(value).flatMap(([key, inner]) => numbersOf(inner, `${path}/${key}`));
}

/** Every text in the report, and the keys of nothing. */
function textsOf(value: unknown): string[] {
  if (typeof value === 'string') return [value];
  if (typeof value !== 'object' || value === null) return [];
  return Object.values(value).flatMap(textsOf);
}

describe('the PDF of a diversion report', () => {
  it('has the same bytes for the same report, in any time zone', async () => {
    const first = await sealed(diversionReport(6));
    const zone = process.env['TZ'];
    try {
      process.env['TZ'] = 'Asia/Tokyo';
      expect(Buffer.compare(first, await sealed(diversionReport(6)))).toBe(0);
    } finally {
      process.env['TZ'] = zone;
    }
  });

  it('is sound to qpdf, tagged and dated by the report', async () => {
    const pdf = await sealed(diversionReport());
    const verdict = run(pdf, 'qpdf', '--check', 'FILE');
    if (verdict !== null) expect(verdict).toContain('No syntax or stream encoding errors found');
    const info = run(pdf, 'pdfinfo', '-isodates', 'FILE');
    if (info === null) return;
    expect(info).toContain('Diversion report, Town of Lower Ottermere, 2025-07-01 to 2026-06-30');
    expect(info).toMatch(/Tagged: +yes/);
    expect(info).toMatch(/CreationDate: +2026-08-14T09:12:44Z/);
  });

  it('prints every number of the report to the digit, and makes up none', async () => {
    const report = diversionReport();
    const text = textOf(await sealed(report));
    if (text === null) return;
    const printed = new Set(text.match(/-?\d+(?:\.\d+)?/g));
    const numbers = numbersOf(report).filter(({ path }) => path !== '/estimatedShare');
    expect(numbers.length).toBeGreaterThan(700);
    expect(numbers.filter(({ value }) => !printed.has(String(value)))).toEqual([]);

    const share = (Math.round((report.estimatedShare ?? 0) * 1000) / 10).toFixed(1);
    expect(text).toContain(`${share} % of what was accepted is an estimate`);
    const inTexts = textsOf(report).flatMap((one) => one.match(/\d+(?:\.\d+)?/g) ?? []);
    const known = new Set([...numbers.map(({ value }) => String(value)), ...inTexts, share]);
    const fractions = [...printed].filter((token) => token.includes('.'));
    expect(fractions.filter((token) => !known.has(token))).toEqual([]);
  });

  it('has the figures in the rows they belong to', async () => {
    const report = diversionReport();
    const text = textOf(await sealed(report));
    if (text === null) return;
    for (const site of report.figures.bySite) {
      const { code, name, lots, acceptedKg, landfilledKg, divertedKg } = site;
      expect(text).toContain(`${code} ${name} ${lots} ${acceptedKg} ${landfilledKg} ${divertedKg}`);
    }
    for (const one of report.figures.byMonth) {
      const { month, weighedKg, sharedKg, estimatedKg, pulledKg, residueKg, elsewhereKg } = one;
      const row = [month, weighedKg, sharedKg, estimatedKg, pulledKg, residueKg, elsewhereKg];
      expect(text).toContain(row.join(' '));
    }
  });

  it('tells on its first page how much, when, how it was weighed, and its seal', async () => {
    const report = diversionReport();
    const text = textOf(await sealed(report), 1);
    if (text === null) return;
    const { total } = report.figures;
    for (const said of [
      'Town of Lower Ottermere',
      'Reported by Ottermere Valley Community Compost',
      'ISSUED, VERSION 2',
      report.printed.divertedShortTons,
      'short tons kept out of landfill',
      'The whole reporting year from 2025-07-01 up to and including 2026-06-30',
      `Weighed lot by lot ${total.weighedKg}`,
      `Weighed with its haul, shared back ${total.sharedKg}`,
      `Estimated from volume ${total.estimatedKg}`,
      `Diverted ${total.divertedKg} ${report.printed.divertedTonnes} ${report.printed.divertedShortTons}`,
      sealOf(report),
      'What these figures do not say',
    ]) {
      expect(text).toContain(said);
    }
  });

  it('tells its charts in words', async () => {
    const report = diversionReport(3);
    const objects = run(await sealed(report), 'qpdf', '--json', 'FILE');
    if (objects === null) return;
    const [first] = report.figures.byMonth;
    expect(objects).toContain(`${first?.month}: ${first?.acceptedKg}, ${first?.divertedKg}`);
    expect(objects.split('Bars of the mass accepted of each')).toHaveLength(4);
    expect(objects).toContain(`kg accepted, ${report.figures.total.weighedKg} kg were weighed lot by lot`);
  });

  it('carries the report it was drawn from, as it was sealed; a draft carries none', async () => {
    const report = diversionReport(3);
    const attached = run(await sealed(report), 'qpdf', '--show-attachment=report.json', 'FILE');
    if (attached !== null) expect(attached).toBe(canonicalJson(report));
    const list = run(await diversionReportPdf(report, null), 'qpdf', '--list-attachments', 'FILE');
    if (list !== null) expect(list).toContain('no embedded files');
  });

  it('says of a draft on every page that it is one', async () => {
    const text = textOf(await diversionReportPdf(diversionReport(3), null));
    if (text === null) return;
    expect(text).toContain('not issued, not sealed');
    const pages = Number(/Page 1 of (\d+)/.exec(text)?.[1]);
    expect(text.split('Draft. Not sealed.')).toHaveLength(pages + 1);
    expect(text).not.toContain('To verify:');
  });

  it('prints no percentage where none was reported, and says why', async () => {
    const text = textOf(await diversionReportPdf(emptyDiversionReport(), null));
    if (text === null) return;
    expect(text).toContain('No percentage is printed.');
    expect(text).toContain('Nothing was accepted in this period.');
    expect(text).not.toMatch(/\d %/);
  });

  it('lists what a later version changes, with the reason of each', async () => {
    const text = textOf(await sealed(diversionReport(3)));
    if (text === null) return;
    expect(text).toContain('What version 2 changes');
    expect(text).toContain('118.5 53.751');
    for (const said of ['typed in kg, the slip says', 'entered twice', 'no reason had to be given'])
      expect(text).toContain(said);
    expect(text).toContain('Diverted, as printed 399.82 400.21 short ton');
    expect(text).toContain('Rate – 7.1 %');
  });

  it('tells a movement of the last evening by the clock of its site, and names the clock', async () => {
    const text = textOf(await sealed(diversionReport(3)));
    if (text === null) return;
    expect(text).toMatch(/2026-06-30.*23:05.*America\/Denver/);
    expect(text).not.toContain('2026-07-01 05:05');
  });

  it('prints a factor of many digits as one number, and every factor once', async () => {
    const text = textOf(await sealed(diversionReport(3)));
    if (text === null) return;
    expect(text.split('-0.15213492335194')).toHaveLength(2);
    expect(text.split('Food waste, composted')).toHaveLength(2);
  });

  it('gives the greenhouse figures the sign of their method, and says which way it points', async () => {
    const report = diversionReport(3);
    const text = textOf(await sealed(report));
    if (text === null) return;
    expect(text).toContain('-15.213 50.146 -65.36');
    expect(text).toContain('-5.295 -26.693 21.398');
    expect(text).toContain('composting comes to less warming than landfill would have');
    if (report.greenhouse === null) throw new Error('the example has an estimate');
    const nothing = { massKg: 0, compostingTCo2e: null, landfillTCo2e: null, differenceTCo2e: null };
    const unknown = textOf(await sealed({ ...report, greenhouse: { ...report.greenhouse, total: nothing } }));
    expect(unknown).toContain('no factor for anything that was accepted: there is no estimate');
    const total = { ...report.greenhouse.total, differenceTCo2e: 3.5 };
    const worse = textOf(await sealed({ ...report, greenhouse: { ...report.greenhouse, total } }));
    expect(worse).toContain('composting comes to more warming than landfill would have');
  });
});
