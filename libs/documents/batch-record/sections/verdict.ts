import { temperatureChart } from '../../chart/chart.js';
import { PAGE, STYLE } from '../../pdf/look.js';
import { pairs, table, type Pair } from '../../pdf/table.js';
import { drawTemperatureChart, PLOT } from '../../pdf/temperature-chart.js';
import { paragraph, section, subheading } from '../../pdf/text.js';
import type { ProcessVerdict } from '../record-monitoring.js';
import { figure, plain, withUnit } from '../words.js';
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

const creditOf = ({ requiredDays, requiredHours, ...verdict }: ProcessVerdict): string =>
  requiredDays === null
    ? `${figure(verdict.creditedHours)} of ${figure(requiredHours)} hours are credited`
    : `${figure(verdict.creditedDays)} of ${figure(requiredDays)} days are credited`;

function chart({ sheet, record, clock }: Writing): void {
  const { verdict, checks } = record;
  const turns = record.actions.filter(({ kind }) => kind === 'turn' || kind === 'move');
  const marks = [
    { at: verdict?.clockStartedAt, label: 'clock starts' },
    { at: verdict?.metAt, label: 'criteria met' },
  ].flatMap(({ at, label }) => (at ? [{ at, label }] : []));
  const drawing = temperatureChart({
    ...PLOT,
    timeZone: record.site.timeZone,
    checks,
    thresholdC: verdict?.thresholdC ?? null,
    breakAfterHours: verdict?.longestGapHours ?? null,
    turns: turns.map(({ occurredAt }) => occurredAt),
    creditedSpans: verdict?.creditedSpans ?? [],
    marks,
  });
  if (drawing === null) {
    paragraph(sheet, 'No temperature has been recorded for this batch.');
    return;
  }
  const probes = drawing.lines.map(({ position }) => position).join(', ');
  const alt =
    `Temperature of the pile over time from ${clock(checks[0]?.occurredAt ?? null)} to ` +
    `${clock(checks.at(-1)?.occurredAt ?? null)}. Probes: ${probes}. Turns: ${turns.length}. ` +
    `Threshold: ${withUnit(verdict?.thresholdC ?? null, '°C')}. Every reading is in the table of checks.`;
  drawTemperatureChart(sheet, drawing, alt);
  const gap = verdict
    ? ` Readings more than ${figure(verdict.longestGapHours)} hours apart are not joined.`
    : '';
  paragraph(sheet, `Hatched: time credited under the rule. Dotted and numbered: turns.${gap}`, STYLE.note);
}

function figures({ sheet, clock }: Writing, verdict: ProcessVerdict): void {
  pairs(sheet, [
    ['Rule', `${verdict.rule.title} (${verdict.rule.code})`],
    ['Citation', verdict.rule.citation],
    ['Wording of the rule', verdict.rule.textStatus],
    ['Read as', verdict.reading],
    ['Threshold', withUnit(verdict.thresholdC, '°C')],
    ['Longest gap', withUnit(verdict.longestGapHours, 'hours')],
    ['Clock started', clock(verdict.clockStartedAt)],
    ['First met', clock(verdict.metAt)],
    ['Hours credited', of(verdict.creditedHours, verdict.requiredHours)],
    ['Days credited', of(verdict.creditedDays, verdict.requiredDays)],
    ['Turns credited', of(verdict.turnsCredited, verdict.requiredTurns)],
    ['Status', plain(verdict.status)],
  ]);
  evidence({ sheet, clock }, verdict);
  if (verdict.hoursAbove.length === 0) return;
  subheading(sheet, 'For information: hours at or above each temperature');
  pairs(
    sheet,
    verdict.hoursAbove.map(({ temperatureC, hours }): Pair => [
      withUnit(temperatureC, '°C'),
      withUnit(hours, 'hours'),
    ]),
  );
}

function evidence({ sheet, clock }: Pick<Writing, 'sheet' | 'clock'>, verdict: ProcessVerdict): void {
  subheading(sheet, 'Evidence');
  if (verdict.evidence.length === 0) {
    paragraph(sheet, 'No check bears on the rule yet.');
    return;
  }
  table(
    sheet,
    [
      { title: 'From', width: 76 },
      { title: 'To', width: 76 },
      { title: 'Kind', width: 74 },
      { title: 'What was recorded', share: 1 },
    ],
    verdict.evidence.map(({ from, to, kind, text }) => ({
      cells: [clock(from), clock(to), plain(kind), text],
    })),
  );
  if (verdict.creditedSpans.length === 0) return;
  table(
    sheet,
    [
      { title: 'Credited from', width: 90 },
      { title: 'to', width: 90 },
      { title: 'Hours', align: 'figure', width: 50 },
    ],
    verdict.creditedSpans.map(({ from, to, hours }) => ({ cells: [clock(from), clock(to), figure(hours)] })),
    { place: { x: PAGE.left, width: 270 } },
  );
}

const of = (credited: number, required: number | null): string =>
  required === null ? figure(credited) : `${figure(credited)} of ${figure(required)}`;
