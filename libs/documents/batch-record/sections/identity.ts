import { pairs, table } from '../../pdf/table.js';
import { paragraph, section, subheading } from '../../pdf/text.js';
import { figure, NONE, plain, said, sentence, withUnit } from '../words.js';
import type { Writing } from './page.js';

export function identity(writing: Writing): void {
  const { sheet, record, clock } = writing;
  section(sheet, 'Identity and permit', () => {
    pairs(sheet, [
      ['Site', `${record.site.name} (${record.site.code})`],
      ['Programme', record.programme.name],
      ['Address', said(record.site.address)],
      ['Method', plain(record.batch.method)],
      ['Record', `version ${record.version}, as of ${clock(record.asOf)}`],
      ['Bay', said(record.batch.bay)],
    ]);
    stages(writing);
    permit(writing);
    amended(writing);
  });
}

function stages({ sheet, record, clock }: Writing): void {
  if (record.batch.stages.length === 0) return;
  subheading(sheet, 'Stages');
  table(
    sheet,
    [
      { title: 'Stage', width: 80 },
      { title: 'From', width: 90 },
      { title: 'To', share: 1 },
    ],
    record.batch.stages.map(({ stage, from, to }) => ({
      cells: [sentence(stage), clock(from), to === null ? '' : clock(to)],
    })),
  );
}

function permit({ sheet, record: { permit } }: Writing): void {
  subheading(sheet, 'Permit');
  if (permit === null) {
    paragraph(sheet, 'No permit was recorded for this site on the days of this batch.');
    return;
  }
  pairs(sheet, [
    ['Reference', permit.reference],
    ['Authority', said(permit.authority)],
    ['Valid', `${permit.validFrom} to ${permit.validTo ?? 'no end date'}`],
    ['Process rule', said(permit.processRule)],
    ['Cure', withUnit(permit.cureDays, 'days')],
    [
      'Required samples',
      permit.requiredSamples.length > 0 ? permit.requiredSamples.map(plain).join(', ') : 'none',
    ],
    ['Stored at most', withUnit(permit.storedVolumeMaxL, 'L')],
    ['In a year at most', withUnit(permit.yearlyMassMaxKg, 'kg')],
  ]);
  pairs(sheet, [['Materials allowed', permit.materials.length > 0 ? permit.materials.join(', ') : NONE]], 1);
}

function amended({ sheet, record: { amends, version } }: Writing): void {
  if (amends === null) return;
  subheading(sheet, `What version ${version} changes`);
  paragraph(
    sheet,
    `It amends version ${figure(amends.version)}, which stays as it was sealed: ${amends.seal}`,
  );
  for (const difference of amends.differences) paragraph(sheet, difference);
}
