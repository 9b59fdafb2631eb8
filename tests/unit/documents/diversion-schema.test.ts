import { Ajv2020 } from 'ajv/dist/2020.js';
import { describe, expect, it } from 'vitest';
import { type DiversionReport, diversionReportSchema } from '#libs/documents';
import { diversionReport, emptyDiversionReport } from '../../support/diversion-report.js';

const ajv = new Ajv2020({ strict: true, validateFormats: false, allErrors: true, allowUnionTypes: true });
const validate = ajv.compile(diversionReportSchema);

function faultsOf(report: unknown): string[] {
  validate(JSON.parse(JSON.stringify(report)));
  return (validate.errors ?? []).map(({ instancePath, keyword }) => `${instancePath} ${keyword}`);
}

describe('the schema of a diversion report', () => {
  it('is itself valid under draft 2020-12', () => {
    expect(ajv.validateSchema(diversionReportSchema)).toBe(true);
  });

  it.each([
    ['full', diversionReport()],
    ['empty', emptyDiversionReport()],
  ])('takes the %s example', (_name, report) => {
    expect(faultsOf(report)).toEqual([]);
  });

  const full = diversionReport(2);
  const withFigures = (figures: Partial<DiversionReport['figures']>) => ({
    ...full,
    figures: { ...full.figures, ...figures },
  });
  const { rate: _rate, ...withoutRate } = full;

  it.each([
    ['a member left out', withoutRate, ' required'],
    ['a member too many', { ...full, percent: 12 }, ' additionalProperties'],
    [
      'a day with a time',
      { ...full, period: { ...full.period, to: '2026-07-01T00:00' } },
      '/period/to pattern',
    ],
    [
      'printed tons as a number',
      { ...full, printed: { ...full.printed, divertedShortTons: 1.5 } },
      '/printed/divertedShortTons type',
    ],
    [
      'tons of three decimals',
      { ...full, printed: { ...full.printed, divertedShortTons: '1.234' } },
      '/printed/divertedShortTons pattern',
    ],
    [
      'a changed figure that is a list',
      {
        ...full,
        amends: { ...full.amends!, totals: [{ figure: 'rate', before: [], after: 1, unit: '%' }] },
      },
      '/amends/totals/0/before type',
    ],
    ['a share above the whole', { ...full, estimatedShare: 1.2 }, '/estimatedShare maximum'],
    ['an unknown convention', withFigures({ residueTo: 'both' as never }), '/figures/residueTo enum'],
    [
      'accepted mass below zero',
      withFigures({ total: { ...full.figures.total, acceptedKg: -1 } }),
      '/figures/total/acceptedKg minimum',
    ],
    [
      'a month that there is not',
      withFigures({ byMonth: [{ ...full.figures.byMonth[0]!, month: '2026-13' }] }),
      '/figures/byMonth/0/month pattern',
    ],
    ['a digest that is none', { ...full, rows: { ...full.rows, sha256: 'A0' } }, '/rows/sha256 pattern'],
    [
      'a yard without its residue',
      { ...full, facilities: full.facilities.map(({ residue: _residue, ...yard }) => yard) },
      '/facilities/0 required',
    ],
  ])('refuses %s', (_name, report, fault) => {
    expect(faultsOf(report)).toContain(fault);
  });

  it('takes mass diverted below zero: more residue may leave in a month than material came', () => {
    const byMonth = [{ ...full.figures.byMonth[0]!, divertedKg: -12.5 }];
    expect(faultsOf(withFigures({ byMonth }))).toEqual([]);
  });
});
