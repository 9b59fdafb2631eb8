import type { RateOfPeriod } from '#libs/accounting';
import { type CsvCell, csvOf } from '../csv.js';
import { facilityLines } from './csv-facility.js';
import { figureLines, greenhouseLines } from './csv-figures.js';
import { type CsvLine, line, textLines } from './csv-line.js';
import type { Amends, DiversionReport, ReportChange } from './report.js';

const COLUMNS = (['section', 'key', 'label', 'figure', 'value', 'unit'] as const).map((title) => ({
  title,
  cell: (one: CsvLine): CsvCell => one[title],
}));

/**
 * The report in the long form, RFC 4180: one line a figure, with its section, the key and the label of what it is of, the
 * name of the figure, its value and its unit. Every figure has the digits of the JSON; what is not known is an empty value.
 * `docs/diversion-report.md` lists the sections.
 */
export function diversionReportCsv(report: DiversionReport): string {
  return csvOf(COLUMNS, [
    ...opening(report),
    ...figureLines(report.figures),
    ...(report.rate ? rateLines(report.rate) : []),
    ...(report.greenhouse ? greenhouseLines(report.greenhouse) : []),
    ...report.facilities.flatMap(facilityLines),
    ...(report.amends ? amendsLines(report.amends) : []),
    ...report.methods.flatMap(({ title, text, source }, index) =>
      textLines('method', `${index + 1}`, title, { text, source }),
    ),
    ...report.factors.flatMap(({ name, value, unit, source }, index) => [
      line('factor', `${index + 1}`, name, 'value', value, unit),
      line('factor', `${index + 1}`, name, 'source', source),
    ]),
    ...report.limits.map((text, index) => line('limit', `${index + 1}`, '', 'text', text)),
    line('rows', '', '', 'count', report.rows.count),
    line('rows', '', '', 'sha256', report.rows.sha256),
  ]);
}

function opening(report: DiversionReport): CsvLine[] {
  const { period, printed, jurisdiction, programme } = report;
  return [
    ...textLines('report', '', '', {
      schema: report.schema,
      programme: programme.name,
      jurisdiction: jurisdiction.name,
      reportingYearStart: jurisdiction.reportingYearStart,
      issuedBy: report.issuedBy,
    }),
    line('report', '', '', 'version', report.version),
    line('report', '', '', 'asOf', report.asOf, 'instant'),
    line('report', '', '', 'from', period.from, 'day'),
    line('report', '', '', 'to', period.to, 'day'),
    line('report', '', '', 'period', period.inWords),
    line('report', '', '', 'wholeYear', period.wholeYear),
    line('report', '', '', 'estimatedShare', report.estimatedShare, 'of 1'),
    ...(['accepted', 'diverted'] as const).flatMap((name) => [
      line('printed', '', '', name, Number(printed[`${name}ShortTons`]), 'short ton'),
      line('printed', '', '', name, Number(printed[`${name}Tonnes`]), 't'),
    ]),
  ];
}

function rateLines(rate: RateOfPeriod): CsvLine[] {
  const { formula, title, expression, source, terms, percent, notes } = rate;
  return [
    ...textLines('rate', formula, title, { expression, source }),
    ...terms.flatMap(({ name, massKg, from }) => [
      line('rate', formula, name, 'mass', massKg, 'kg'),
      line('rate', formula, name, 'from', from),
    ]),
    line('rate', formula, title, 'rate', percent, '%'),
    ...notes.map((note) => line('rate', formula, title, 'note', note)),
  ];
}

function amendsLines({ version, seal, issuedAt, reason, totals, changes }: Amends): CsvLine[] {
  const amended = `version ${version}`;
  return [
    line('amends', '', amended, 'version', version),
    line('amends', '', amended, 'issuedAt', issuedAt, 'instant'),
    ...textLines('amends', '', amended, { seal, reason }),
    ...totals.flatMap(({ figure, before, after, unit }) => [
      line('changed-total', '', figure, 'before', before, unit),
      line('changed-total', '', figure, 'after', after, unit),
    ]),
    ...changes.flatMap(changeLines),
  ];
}

function changeLines(change: ReportChange, index: number): CsvLine[] {
  const key = `${index + 1}`;
  const { change: kindOfChange, kind, sourceId, occurredAt, localDay, what, reason } = change;
  const { timeZone, site, material } = change;
  const label = `${kindOfChange} ${kind}`;
  return [
    line('change', key, label, 'occurredAt', occurredAt, 'instant'),
    line('change', key, label, 'localDay', localDay, 'day'),
    ...textLines('change', key, label, { timeZone, sourceId, site, material }),
    line('change', key, label, 'before', change.beforeKg, 'kg'),
    line('change', key, label, 'after', change.afterKg, 'kg'),
    ...what.map((other) => line('change', key, label, 'what', other)),
    line('change', key, label, 'reason', reason),
  ];
}
