import { STYLE } from '../../pdf/look.js';
import { drawTemperatureChart, heightOfChart, PLOT } from '../../pdf/temperature-chart.js';
import { paragraph, section } from '../../pdf/text.js';
import type { BatchRecord } from '../record.js';
import type { ProcessVerdict } from '../record-monitoring.js';
import { temperaturesOf, type Temperatures } from '../temperatures.js';
import { type Clock, figure, withUnit } from '../words.js';
import type { Writing } from './page.js';
import { reasons } from './reasons.js';
import { figures, inWords } from './rule.js';

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
    if (!verdict) return;
    reasons(writing, verdict);
    forInformation(writing, verdict);
  });
}

/** Each is a gate of its own, and is told with what it rests on as the governing rule is. */
export function furtherRules(writing: Writing): void {
  const { sheet, record, clock } = writing;
  for (const [index, verdict] of record.furtherVerdicts.entries()) {
    const above = [...(record.verdict ? [record.verdict] : []), ...record.furtherVerdicts.slice(0, index)];
    section(sheet, `Further rule of the permit: ${verdict.rule.title}`, () => {
      paragraph(sheet, inWords(verdict, clock), STYLE.lead, { after: 6 });
      figures(writing, verdict);
      const toldAbove = above.flatMap(({ cautions }) => cautions);
      reasons(writing, verdict, toldAbove);
    });
  }
}

export function verdictInWords({ record: { verdict }, clock }: Writing): string {
  if (verdict) return inWords(verdict, clock);
  return 'No process rule is set for this batch, so no verdict is drawn from its temperatures.';
}

/** Further rules of the permit bind as the governing one does. */
export function furtherInWords({ record, clock }: Writing): string[] {
  return record.furtherVerdicts.map((verdict) => `The permit also asks: ${inWords(verdict, clock)}`);
}

function chart({ sheet, record, clock }: Writing, temperatures: Temperatures | null): void {
  if (temperatures === null) {
    paragraph(sheet, 'No temperature has been recorded for this batch.');
    return;
  }
  const { chart: drawing, breakAfterHours } = temperatures;
  drawTemperatureChart(sheet, drawing, inPlaceOf(temperatures, record, clock));
  paragraph(
    sheet,
    'Hatched: time credited under the rule. Dotted and numbered: turns. ' +
      `Readings more than ${figure(breakAfterHours)} hours apart are not joined.`,
    STYLE.note,
  );
}

/** The chart for those who do not see it. */
function inPlaceOf(
  { chart, from, to }: Temperatures,
  { verdict, loggers }: BatchRecord,
  clock: Clock,
): string {
  const lines = chart.lines.map(({ position }) => position).join(', ');
  const hours =
    loggers.length === 0
      ? ''
      : ' Of a logger the lowest and the highest of each hour are drawn; record.json holds them.';
  return (
    `Temperature of the pile over time from ${clock(from)} to ${clock(to)}. Lines: ${lines}. ` +
    `Turns: ${chart.turns.length}. Threshold: ${withUnit(verdict?.required.thresholdC ?? null, '°C')}. ` +
    `Every reading of a check is in the table of checks.${hours}`
  );
}

function forInformation({ sheet, clock }: Writing, { hoursAbove, heatIntegral }: ProcessVerdict): void {
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
