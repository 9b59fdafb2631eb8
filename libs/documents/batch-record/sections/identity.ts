import { pairs, type Pair } from '../../pdf/table.js';
import { paragraph, section, subheading } from '../../pdf/text.js';
import { MIX_NAMES, rangeInWords } from '../mix-words.js';
import type { Permit } from '../record.js';
import { figure, NONE, plain, said, sentence, withUnit } from '../words.js';
import type { Writing } from './page.js';

export function identity(writing: Writing): void {
  const { sheet, record, clock } = writing;
  section(sheet, 'Identity and permit', () => {
    pairs(sheet, [
      ['Site', `${record.site.name} (${record.site.code})`],
      ['Programme', record.programme.name],
      ['Bay', said(record.batch.bay)],
      ['Method', plain(record.batch.method)],
      ['Record', `version ${record.version}, as of ${clock(record.asOf)}`],
      ['Time zone', record.site.timeZone],
    ]);
    stages(writing);
    subheading(sheet, 'Permit');
    if (record.permit) permit(writing, record.permit);
    else paragraph(sheet, 'No permit was recorded for this site on the days of this batch.');
    amended(writing);
  });
}

function stages({ sheet, record, clock }: Writing): void {
  if (record.batch.stages.length === 0) return;
  subheading(sheet, 'Stages, and when each began');
  const explained = record.batch.stages.some(({ reason }) => reason !== null);
  pairs(
    sheet,
    record.batch.stages.map(({ stage, enteredAt, reason }): Pair => [
      sentence(stage),
      reason === null ? clock(enteredAt) : `${clock(enteredAt)}: ${reason}`,
    ]),
    explained ? 1 : 2,
  );
}

function permit({ sheet }: Writing, permit: Permit): void {
  pairs(sheet, [
    ['Reference', permit.reference],
    ['Valid', `${permit.validFrom} to ${permit.validTo ?? 'no end date'}`],
    ['Process rule', said(permit.processRule)],
    ['Read as', said(permit.processReading)],
    ['Fewest probes', figure(permit.minimumProbes)],
    ['Longest gap', withUnit(permit.longestGapHours, 'hours')],
    ['Cure', withUnit(permit.cureDays, 'days')],
    ['Cure restarts at', withUnit(permit.cureReheatC, '°C')],
    ['Stored at most', withUnit(permit.storedVolumeMaxL, 'L')],
    ['In a year at most', withUnit(permit.yearlyMassMaxKg, 'kg')],
  ]);
  const lists: Pair[] = [
    ...(permit.furtherRules.length > 0
      ? [['Further rules', permit.furtherRules.join(', ')] satisfies Pair]
      : []),
    ['Required samples', permit.requiredSamples.map(plain).join(', ') || NONE],
    ...(permit.mixTargets.length > 0
      ? [['Mix asked for', permit.mixTargets.map(mixTarget).join('; ')] satisfies Pair]
      : []),
    ['Materials allowed', permit.materials.map(materialName).join('; ') || NONE],
  ];
  pairs(sheet, lists, 1);
}

/** Earlier records have codes here. */
const materialName = (name: string): string => (/^[a-z0-9-]+$/.test(name) ? plain(name) : name);

const mixTarget = ({ figure: name, ...range }: Permit['mixTargets'][number]): string =>
  `${MIX_NAMES[name]} ${rangeInWords(range)}`;

function amended({ sheet, record: { amends, version } }: Writing): void {
  if (amends === null) return;
  subheading(sheet, `What version ${version} changes`);
  paragraph(
    sheet,
    `It amends version ${figure(amends.version)}, which stays as it was sealed: ${amends.seal}`,
  );
  for (const difference of amends.differences) paragraph(sheet, difference);
}
