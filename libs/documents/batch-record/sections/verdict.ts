import { STYLE } from '../../pdf/look.js';
import { type Pair, pairs, table } from '../../pdf/table.js';
import { drawTemperatureChart, heightOfChart, PLOT } from '../../pdf/temperature-chart.js';
import { paragraph, section, subheading } from '../../pdf/text.js';
import type { ProcessVerdict } from '../record-monitoring.js';
import { citationOf, wordingOf } from '../rule-words.js';
import { temperaturesOf, type Temperatures } from '../temperatures.js';
import { figure, plain, sentence, spanOf, withUnit } from '../words.js';
import { EVIDENCE } from './columns.js';
import { conditions, furtherRules, otherReading, recount, thermometers } from './further.js';
import type { Writing } from './page.js';
import { asked } from './rule.js';

export function process(writing: Writing): void {
  const { sheet, record } = writing;
  const { verdict } = record;
  section(sheet, 'Temperature and the process rule', () => {
    const temperatures = temperaturesOf(record, PLOT);
    // the chart is high: where it does not fit, the words fill the page before it
    const chartFirst = !temperatures || sheet.fits(heightOfChart(temperatures.chart) + STYLE.note.leading);
    if (chartFirst) chart(writing, temperatures);
    paragraph(sheet, verdictInWords(writing), STYLE.lead, { after: 6 });
    if (verdict) figures(writing, verdict);
    if (!chartFirst) chart(writing, temperatures);
    if (verdict) reasons(writing, verdict);
    furtherRules(writing);
  });
}

/** The verdict in one or two sentences; it speaks of recorded criteria, never of legality. */
export function verdictInWords({ record: { verdict }, clock }: Writing): string {
  if (verdict === null)
    return 'No process rule is set for this batch, so no verdict is drawn from its temperatures.';
  const rule = `${verdict.rule.title} (${citationOf(verdict.rule)})`;
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

function chart({ sheet, record, clock }: Writing, temperatures: Temperatures | null): void {
  const { verdict, checks } = record;
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
  pairs(
    sheet,
    [
      ['Rule', `${rule.title} (${rule.code}${rule.version === null ? '' : `, version ${rule.version}`})`],
      ['Citation', citationOf(rule)],
      ['Wording of the rule', wordingOf(rule)],
    ],
    1,
  );
  pairs(sheet, [
    ...(verdict.purpose === null ? [] : [['For', plain(verdict.purpose)] satisfies Pair]),
    ['Read as', verdict.reading],
    ...asked(required),
    ['Clock started', clock(verdict.clockStartedAt)],
    ['First met', clock(verdict.metAt)],
    ['Hours credited', of(verdict.creditedHours, required.hours)],
    ['Days credited', of(verdict.creditedDays, required.days)],
    ['Turns credited', of(verdict.turnsCredited, required.turns)],
    ['Status', plain(verdict.status)],
  ]);
}

/** What was credited and why, and what the verdict does not say. */
function reasons({ sheet, clock }: Writing, verdict: ProcessVerdict): void {
  conditions({ sheet }, verdict);
  evidence({ sheet, clock }, verdict);
  recount({ sheet }, verdict);
  thermometers({ sheet, clock }, verdict);
  otherReading({ sheet, clock }, verdict);
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
    EVIDENCE,
    verdict.evidence.map(({ from, to, kind, text }) => ({
      cells: [spanOf(clock, from, to), sentence(plain(kind)), text],
    })),
  );
}

function forInformation({ sheet, clock }: Place, { hoursAbove, heatIntegral }: ProcessVerdict): void {
  if (hoursAbove.length > 0) {
    const list = hoursAbove
      .map(({ temperatureC, hours }) => `${withUnit(temperatureC, '°C')} for ${withUnit(hours, 'hours')}`)
      .join(', ');
    paragraph(sheet, `For information: at or above ${list}.`, STYLE.note);
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

const of = (credited: number, required: number | null): string =>
  required === null ? figure(credited) : `${figure(credited)} of ${figure(required)}`;
