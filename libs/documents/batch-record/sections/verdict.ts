import { STYLE } from '../../pdf/look.js';
import { pairs, table, type Pair } from '../../pdf/table.js';
import { drawTemperatureChart, PLOT } from '../../pdf/temperature-chart.js';
import { paragraph, section, subheading } from '../../pdf/text.js';
import type { ProcessVerdict, TextStatus } from '../record-monitoring.js';
import { temperaturesOf } from '../temperatures.js';
import { figure, plain, sentence, spanOf, withUnit } from '../words.js';
import { when } from './columns.js';
import type { Writing } from './page.js';

export function process(writing: Writing): void {
  const { sheet, record } = writing;
  section(sheet, 'Temperature and the process rule', () => {
    chart(writing);
    paragraph(sheet, verdictInWords(writing), STYLE.lead, { after: 6 });
    if (record.verdict) figures(writing, record.verdict);
  });
}

/** The verdict in one or two sentences; it speaks of recorded criteria, never of legality. */
export function verdictInWords({ record: { verdict }, clock }: Writing): string {
  if (verdict === null)
    return 'No process rule is set for this batch, so no verdict is drawn from its temperatures.';
  const rule = `${verdict.rule.title} (${verdict.rule.citation})`;
  switch (verdict.status) {
    case 'met':
      return `Met. The recorded criteria of ${rule} were met on ${clock(verdict.metAt)}.`;
    case 'in-progress':
      return `In progress. The recorded criteria of ${rule} are not met yet; ${creditOf(verdict)} so far.`;
    case 'interrupted':
      return `Interrupted. A run under ${rule} was broken before its recorded criteria were met; ${creditOf(verdict)}.`;
    case 'insufficient-data':
      return `Insufficient data. The checks do not show whether the recorded criteria of ${rule} were met.`;
    case 'not-started':
      return `Not started. No time is credited under ${rule} yet.`;
  }
}

const creditOf = ({ required, creditedDays, creditedHours }: ProcessVerdict): string =>
  required.days === null
    ? `${figure(creditedHours)} of ${figure(required.hours)} hours are credited`
    : `${figure(creditedDays)} of ${figure(required.days)} days are credited`;

function chart({ sheet, record, clock }: Writing): void {
  const { verdict, checks } = record;
  const temperatures = temperaturesOf(record, PLOT);
  if (temperatures === null) {
    paragraph(sheet, 'No temperature has been recorded for this batch.');
    return;
  }
  const { chart: drawing, breakAfterHours } = temperatures;
  const probes = drawing.lines.map(({ position }) => position).join(', ');
  const alt =
    `Temperature of the pile over time from ${clock(checks[0]?.occurredAt ?? null)} to ` +
    `${clock(checks.at(-1)?.occurredAt ?? null)}. Probes: ${probes}. Turns: ${drawing.turns.length}. ` +
    `Threshold: ${withUnit(verdict?.required.thresholdC ?? null, '°C')}. Every reading is in the table of checks.`;
  drawTemperatureChart(sheet, drawing, alt);
  paragraph(
    sheet,
    'Hatched: time credited under the rule. Dotted and numbered: turns. ' +
      `Readings more than ${figure(breakAfterHours)} hours apart are not joined.`,
    STYLE.note,
  );
}

function figures({ sheet, clock }: Writing, verdict: ProcessVerdict): void {
  const { rule, required } = verdict;
  pairs(sheet, [
    ['Rule', `${rule.title} (${rule.code})`],
    ['Citation', rule.citation],
    ['Wording of the rule', WORDINGS[rule.textStatus]],
    ['Read as', verdict.reading],
    ['Threshold', withUnit(required.thresholdC, '°C')],
    ['Upper limit', withUnit(required.upperLimitC, '°C')],
    ['Probes a check', figure(required.probes)],
    ['Probe depth', withUnit(required.depthCm, 'cm')],
    ['Longest gap', withUnit(required.longestGapHours, 'hours')],
    ['Between turns', withUnit(required.turnSpacingHours, 'hours')],
    ['Clock started', clock(verdict.clockStartedAt)],
    ['First met', clock(verdict.metAt)],
    ['Hours credited', of(verdict.creditedHours, required.hours)],
    ['Days credited', of(verdict.creditedDays, required.days)],
    ['Turns credited', of(verdict.turnsCredited, required.turns)],
    ['Status', plain(verdict.status)],
  ]);
  evidence({ sheet, clock }, verdict);
  for (const note of verdict.notes) paragraph(sheet, note, STYLE.note);
  forInformation({ sheet, clock }, verdict);
}

type Place = Pick<Writing, 'sheet' | 'clock'>;

function evidence({ sheet, clock }: Place, verdict: ProcessVerdict): void {
  subheading(sheet, 'Evidence');
  if (verdict.evidence.length === 0) {
    paragraph(sheet, 'No check bears on the rule yet.');
    return;
  }
  table(
    sheet,
    [when('When'), { title: 'Kind', width: 78 }, { title: 'What was recorded', share: 1 }],
    verdict.evidence.map(({ from, to, kind, text }) => ({
      cells: [spanOf(clock, from, to), sentence(plain(kind)), text],
    })),
  );
}

function forInformation({ sheet, clock }: Place, { hoursAbove, heatIntegral }: ProcessVerdict): void {
  if (hoursAbove.length > 0) {
    subheading(sheet, 'For information: hours at or above each temperature');
    pairs(
      sheet,
      hoursAbove.map(({ temperatureC, hours }): Pair => [
        withUnit(temperatureC, '°C'),
        withUnit(hours, 'hours'),
      ]),
    );
  }
  if (heatIntegral === null) return;
  const { from, to, holdingTimes, citation } = heatIntegral;
  const span = `between ${clock(from)} and ${clock(to)}`;
  paragraph(
    sheet,
    `For information: ${span} the heat came to ${figure(holdingTimes)} holding times of ${citation}. The equation ` +
      'is written for material held at one temperature throughout; it decides nothing here.',
    STYLE.note,
  );
}

const WORDINGS: Record<TextStatus, string> = {
  verified: 'read in the rule itself',
  parallel: 'read in a legal text that repeats it',
  secondary: 'read in an official page on it',
  'from-memory': 'from memory: check the text',
};

const of = (credited: number, required: number | null): string =>
  required === null ? figure(credited) : `${figure(credited)} of ${figure(required)}`;
