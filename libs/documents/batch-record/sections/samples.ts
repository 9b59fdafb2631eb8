import { STYLE } from '../../pdf/look.js';
import { table } from '../../pdf/table.js';
import { paragraph, subheading } from '../../pdf/text.js';
import type { Sample, SampleFinding, SampleResult } from '../record-release.js';
import { figure, plain, said, sentence } from '../words.js';
import { when } from './columns.js';
import type { Writing } from './page.js';

/** Every sample with the manager's reading of it, and under that every figure with what is published of it. */
export function samples(writing: Writing): void {
  const { sheet, record, clock } = writing;
  subheading(sheet, 'Samples');
  if (record.samples.length === 0) {
    paragraph(sheet, 'No sample is recorded.');
    return;
  }
  table(
    sheet,
    [
      when('Taken'),
      { title: 'Sample', share: 1 },
      { title: 'Found', share: 1.4 },
      { title: 'Standing', width: 58 },
      { title: 'Laboratory and reference', share: 1.4 },
      { title: 'Mass, kg', align: 'figure', width: 40 },
    ],
    record.samples.map((sample) => ({
      cells: [
        `${clock(sample.occurredAt)}\n${sample.by}`,
        sentence(plain(sample.kind)),
        foundIn(sample),
        sample.outcome === 'information' ? 'for information' : sample.outcome,
        said([sample.laboratory, sample.reference].filter((part) => part !== null).join(', ')),
        // what a laboratory gets is mostly not weighed: nothing is told, and not that it was nothing
        sample.massKg === 0 ? '' : figure(sample.massKg),
      ],
    })),
  );
  for (const sample of record.samples) figures(writing, sample);
}

function foundIn({ results, finding }: Sample): string {
  const count = results.length === 1 ? '1 figure, below' : `${results.length} figures, below`;
  return said([...(results.length === 0 ? [] : [count]), ...(finding === null ? [] : [finding])].join('; '));
}

function figures({ sheet, clock }: Writing, { kind, occurredAt, results, findings, warnings }: Sample): void {
  for (const warning of warnings) paragraph(sheet, warning, STYLE.strong);
  if (results.length === 0) return;
  const joint = findings.filter(({ value }) => value === null);
  table(
    sheet,
    [
      { title: `${sentence(plain(kind))}, ${clock(occurredAt)}`, share: 1 },
      { title: 'What published tables say of it', share: 1.6 },
    ],
    [
      ...results.map((result) => ({ cells: [resultIn(result), saidOf(result, findings)] })),
      ...joint.map((finding) => ({ cells: [finding.scale, finding.text] })),
    ],
    { style: STYLE.dense },
  );
  if (findings.length > 0) paragraph(sheet, `Tables: ${sourcesOf(findings)}`, STYLE.note);
}

const resultIn = ({ title, value, unit, qualifier, laboratoryWord }: SampleResult): string => {
  const word = laboratoryWord === null ? '' : `\nThe laboratory: ${laboratoryWord}`;
  return `${title}: ${qualifier ?? ''}${figure(value)} ${unit}${word}`;
};

/** A line for each table. A class or limit from memory carries its mark. */
function saidOf(
  { parameter, value, unit, qualifier }: SampleResult,
  findings: readonly SampleFinding[],
): string {
  const lines = findings
    .filter((one) => one.parameter === parameter && one.value === value)
    .filter((one) => one.unit === unit && one.qualifier === qualifier)
    .map((one) => `${one.scale}: ${one.class ?? limitOf(one)}${markOf(one)}`);
  return lines.length === 0 ? 'No published class is kept of it.' : [...new Set(lines)].join('\n');
}

function limitOf({ limit, state }: SampleFinding): string {
  const keeps = {
    met: 'keeps to',
    unmet: 'does not keep to',
    unknown: 'may or may not keep to',
    classed: '',
  }[state];
  return limit === null ? 'more than one class is possible' : `${keeps} ${limit}`;
}

const markOf = ({ textStatus }: SampleFinding): string =>
  textStatus === 'from-memory' ? ' (from memory)' : '';

/** "503.13 Table 3: 40 CFR 503.13, Table 3; …", each once. */
function sourcesOf(findings: readonly SampleFinding[]): string {
  const sources = findings.map((one) => `${one.scale}: ${one.source}${markOf(one)}`);
  return `${[...new Set(sources)].join('; ')}. A class informs; the permit says what opens a gate.`;
}
