import type { DiversionFigures, FactorUsed, GreenhouseEstimate, RateOfPeriod } from '#libs/accounting';
import type { Method } from '../batch-record/record.js';
import type { Facility } from './facility.js';

export const DIVERSION_REPORT_SCHEMA = 'heapwright/diversion-report/1';

/**
 * What a jurisdiction is told of a period: what `.json` holds, and all that `.csv` and `.pdf` print.
 *
 * Plain JSON only; what is not known is null, never left out. Quantities are metric with the unit in the name and already
 * rounded as they are to be read. Printed rows need not add up to a printed total: each is rounded from its exact sum.
 */
export interface DiversionReport {
  schema: typeof DIVERSION_REPORT_SCHEMA;
  version: number;
  /** What changed since the version before; null on the first. */
  amends: Amends | null;
  /** When it was issued. Nothing recorded later is in it. */
  asOf: string;
  /** Initials of whoever issued it. */
  issuedBy: string;
  programme: { name: string };
  jurisdiction: { name: string; reportingYearStart: string };
  /** Local days of each site, `to` excluded; `inWords` names the last day that is in it. */
  period: { from: string; to: string; inWords: string; wholeYear: boolean };
  /** Total accepted and diverted as municipal reports print them, rounded once from the exact sum. */
  printed: {
    acceptedShortTons: string;
    divertedShortTons: string;
    acceptedTonnes: string;
    divertedTonnes: string;
  };
  /** 0 to 1 of the accepted mass; null when there is none. */
  estimatedShare: number | null;
  figures: DiversionFigures;
  /** Null where the municipality's disposed tonnage was not supplied: then no percentage is printed. */
  rate: RateOfPeriod | null;
  greenhouse: GreenhouseEstimate | null;
  /** Yards that stand in the jurisdiction, whatever jurisdiction their material came from. */
  facilities: Facility[];
  methods: Method[];
  factors: FactorUsed[];
  /** What the figures do not say, in sentences. */
  limits: string[];
  /** The movements the figures were summed from: how many, and SHA-256 over them in order. */
  rows: { count: number; sha256: string };
}

export interface Amends {
  version: number;
  seal: string;
  issuedAt: string;
  reason: string;
  /** Every total, count, rate, estimate and setting that is other now. */
  totals: OtherFigure[];
  changes: ReportChange[];
}

/** A figure as it was and as it is now, digit for digit; null where that version has none. */
export interface OtherFigure {
  figure: string;
  before: string | number | null;
  after: string | number | null;
  /** Empty of counts and of words. */
  unit: string;
}

/** A movement that is new, gone or other than in the version before. */
export interface ReportChange {
  change: 'added' | 'removed' | 'corrected';
  /** "drop-off", "pulled", "screening" … */
  kind: string;
  sourceId: string;
  occurredAt: string;
  /** On the clock of its site, and whose clock that is. */
  localDay: string;
  timeZone: string;
  site: string;
  material: string;
  beforeKg: number | null;
  afterKg: number | null;
  /** What else is other: material, day, basis, where it went; empty when only the mass is. */
  what: string[];
  /** As whoever corrected or voided it said; null where nobody had to say, as with a lot that came in late. */
  reason: string | null;
}
