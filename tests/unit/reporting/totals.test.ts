import { describe, expect, it } from 'vitest';
import { canonicalJson, type DiversionReport } from '#libs/documents';
import { otherTotals } from '../../../apps/api/reporting/reports/totals.js';
import { diversionReport } from '../../support/diversion-report.js';

/** As it is read back once it was sealed: the names within every object stand in the order of the alphabet. */
const sealed = (report: DiversionReport) => JSON.parse(canonicalJson(report)) as DiversionReport;

describe('totals of a report that are other than before', () => {
  it('are none where only the order of what was written down is another', () => {
    const report = diversionReport(6);
    expect(report.facilities.flatMap(({ distributed }) => distributed)).not.toEqual([]);
    expect(otherTotals(sealed(report), report)).toEqual([]);
  });

  it('name a line by its words and say both of its masses', () => {
    const before = diversionReport(6);
    const [facility, ...others] = before.facilities;
    const [line, ...lines] = facility!.distributed;
    const more = { ...line!, massKg: line!.massKg + 12.5 };
    const after = { ...before, facilities: [{ ...facility!, distributed: [more, ...lines] }, ...others] };
    expect(otherTotals(sealed(before), after)).toEqual([
      {
        figure: `${facility!.code}: distributed: ${line!.use}, ${line!.recipient}`,
        before: line!.massKg,
        after: more.massKg,
        unit: 'kg',
      },
    ]);
  });

  it('tell what a version has that the other has not, and nothing of what is nothing in both', () => {
    const after = diversionReport(6);
    const depositor = { depositor: 'school', visits: 2, acceptedKg: 12.5 };
    const figures = {
      ...after.figures,
      byDepositor: [...after.figures.byDepositor.filter((one) => one.depositor !== 'school'), depositor],
      pulled: [...after.figures.pulled, { wentTo: 'returned elsewhere', massKg: 0 }],
    };
    const before = { ...figures, byDepositor: figures.byDepositor.slice(0, -1) };
    expect(otherTotals({ ...after, figures: before, rate: null }, { ...after, figures })).toEqual([
      { figure: 'rate', before: null, after: after.rate!.percent, unit: '%' },
      expect.objectContaining({ figure: 'rate: formula', before: null }),
      ...after.rate!.terms.flatMap(({ name, massKg, from }) => [
        { figure: `rate: ${name}`, before: null, after: massKg, unit: 'kg' },
        { figure: `rate: ${name}: from`, before: null, after: from, unit: '' },
      ]),
      { figure: 'by depositor: school: visits', before: null, after: 2, unit: '' },
      { figure: 'by depositor: school: accepted', before: null, after: 12.5, unit: 'kg' },
    ]);
  });

  it('name a complaint that came in late', () => {
    const after = diversionReport(6);
    const [yard, ...others] = after.facilities;
    const late = { on: '2026-05-04', kind: 'odour', about: 'Sour smell', done: ['Turned', 'Covered'] };
    const more = { ...yard!, complaints: [...yard!.complaints, late] };
    expect(otherTotals(after, { ...after, facilities: [more, ...others] })).toEqual([
      {
        figure: `${yard!.code}: complaints: 2026-05-04, odour: about`,
        before: null,
        after: 'Sour smell',
        unit: '',
      },
      {
        figure: `${yard!.code}: complaints: 2026-05-04, odour: done`,
        before: null,
        after: 'Turned; Covered',
        unit: '',
      },
    ]);
  });
});
