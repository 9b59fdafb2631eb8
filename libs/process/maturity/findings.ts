import type { Decimal } from 'decimal.js';
import type { TextStatus } from '../rule.js';
import { bandOf, keepsTo } from './judge.js';
import { type Parameter, parameterOf } from './parameters.js';
import { inUnit, type Qualifier, type SampleResult, sayInUnit, sayResult } from './results.js';
import type { ClassTable, LimitTable, Table } from './table.js';
import { maturityTables } from './tables/index.js';

/**
 * `met` and `unmet` are of a limit, `classed` is of a table that only names classes, `unknown` where the figure leaves
 * it open ("<5" against a limit of 3) or the table needs another one.
 */
export const findingStates = ['met', 'unmet', 'classed', 'unknown'] as const;
export type FindingState = (typeof findingStates)[number];

/** What one published table says of a sample. It informs; the permit says what opens a gate. */
export interface SampleFinding {
  /** A parameter's key, or `ccqc-index` and `herbicide-bioassay`, which rest on several. */
  readonly parameter: string;
  /** As the laboratory gave it; null where the finding rests on several figures. */
  readonly value: number | null;
  readonly unit: string | null;
  readonly qualifier: Qualifier | null;
  /** The table, by its code and by its name. */
  readonly table: string;
  readonly scale: string;
  /** The published class; null for a limit, or where the figure leaves it open. */
  readonly class: string | null;
  /** "at most 41 mg/kg dry"; null for a table of classes. */
  readonly limit: string | null;
  readonly state: FindingState;
  /** The document and section. */
  readonly source: string;
  readonly textStatus: TextStatus;
  /** The whole of it in sentences: the figure, the conversion, the class, the choice, and how far it was checked. */
  readonly text: string;
}

/** What every published table says of one figure; empty for one that cannot be read. */
export function findingsOf(result: SampleResult): SampleFinding[] {
  const parameter = parameterOf(result.parameter);
  if (!parameter) return [];
  return maturityTables.flatMap((table) => {
    const figure = table.parameter === parameter.key ? tableFigure(result, table, parameter) : null;
    return figure ? [findingUnder(table, figure, result, parameter)] : [];
  });
}

const tableFigure = ({ value, unit }: SampleResult, table: Table, parameter: Parameter): Decimal | null =>
  inUnit(value, unit, table.unit, parameter);

function findingUnder(
  table: Table,
  figure: Decimal,
  result: SampleResult,
  { title }: Parameter,
): SampleFinding {
  const { parameter, value, unit, qualifier } = result;
  const judged = 'bands' in table ? classed(table, figure, qualifier) : held(table, figure, qualifier);
  const told = `${title} ${sayResult(result)}${converted(figure, result, table)}: ${judged.says} (${table.title}; ${table.citation}).`;
  return {
    ...{ parameter, value, unit, qualifier, table: table.code, scale: table.title },
    ...{ class: judged.class, limit: judged.limit, state: judged.state },
    ...{ source: table.citation, textStatus: table.textStatus },
    text: sentences(told, table.choice, fromMemory(table.textStatus)),
  };
}

function classed({ bands }: ClassTable, figure: Decimal, qualifier: Qualifier | null) {
  const band = bandOf(bands, figure, qualifier);
  return band
    ? { class: band.name, limit: null, state: 'classed' as const, says: band.name }
    : { class: null, limit: null, state: 'unknown' as const, says: 'more than one class is possible' };
}

const says = { met: 'keeps to', unmet: 'does not keep to', unknown: 'may or may not keep to' } as const;

function held({ limit, unit }: LimitTable, figure: Decimal, qualifier: Qualifier | null) {
  const keeps = keepsTo(limit, figure, qualifier);
  const state = keeps === null ? 'unknown' : keeps ? 'met' : 'unmet';
  const bound = `${limit.is} ${sayInUnit(String(limit.value), unit)}`;
  return { class: null, limit: bound, state, says: `${says[state]} ${bound}` } as const;
}

/** " (4.363636 mg CO2-C/g OM/day)" where the table is in another unit than the laboratory. */
function converted(figure: Decimal, { unit, qualifier }: SampleResult, table: Table): string {
  if (unit === table.unit) return '';
  const shown = figure.toSignificantDigits(7).toString();
  return ` (${sayInUnit(`${qualifier ?? ''}${shown}`, table.unit)})`;
}

export const fromMemory = (status: TextStatus): string | null =>
  status === 'from-memory' ? 'Figures from memory: compare them with the text in force.' : null;

/** What there is, as one text. */
export const sentences = (...parts: readonly (string | null)[]): string =>
  parts.filter((part) => part !== null).join(' ');
