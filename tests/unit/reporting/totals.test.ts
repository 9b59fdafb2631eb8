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
        figure: `${facility!.code}: distributed: ${line!.recipient}, ${line!.use}`,
        beforeKg: line!.massKg,
        afterKg: more.massKg,
      },
    ]);
  });
});
