import type { Lack } from './facts.js';
import type { Moment } from './moments.js';
import type { Terms } from './terms.js';
import type { Span } from './verdict.js';

/** Why a moment did not hold. The last two count for nothing: they neither earn nor break. */
export type Trouble = 'below-threshold' | 'above-limit' | 'after-turn' | Lack;
export type Finding = 'held' | Trouble;

/** Something that earned no time. Checks in a row with the same trouble are one incident. */
export interface Incident extends Span {
  readonly kind: Trouble | 'gap';
  readonly checks: number;
  /** The coldest (or, above the limit, hottest) governing temperature; null where the kind has none. */
  readonly extremeDeciC: number | null;
  readonly checkId: string | null;
}

/** An unbroken hot stretch, from the first check that held to the last one. */
export interface Stretch extends Span {
  /** Credited time. Touching spans are joined. */
  readonly spans: readonly Span[];
  /** For a daily rule: the end of each credited local day. */
  readonly dayEndsMs: readonly number[];
  /** What broke it; null while it runs. */
  readonly endedBy: Incident | null;
}

/** What the checks of a batch amount to, before turns and the rule's duration are looked at. */
export interface Course {
  readonly stretches: readonly Stretch[];
  readonly incidents: readonly Incident[];
  readonly lastShownMs: number | null;
  /** From this instant on, missing checks leave the present unknown; null before the first check that counts. */
  readonly silentAfterMs: number | null;
}

/** Judges a moment; `turnsMs` are in order. Moments must come in order of time. */
export function judgeOf(terms: Terms, turnsMs: readonly number[]): (moment: Moment) => Finding {
  let passed = 0;
  return (moment) => {
    while ((turnsMs[passed] ?? Infinity) <= moment.atMs) passed += 1;
    const sinceTurnMs = moment.atMs - (turnsMs[passed - 1] ?? -Infinity);
    if (moment.highDeciC > terms.upperLimitDeciC) return 'above-limit';
    if (moment.lowDeciC < terms.thresholdDeciC) {
      return sinceTurnMs <= terms.graceMs ? 'after-turn' : 'below-threshold';
    }
    return moment.lack ?? 'held';
  };
}

/** Writes a course down, moment by moment. */
export class CourseWriter {
  readonly stretches: Mutable<Stretch>[] = [];
  readonly incidents: Mutable<Incident>[] = [];
  #running: Mutable<Stretch> | null = null;
  #previous: Finding | null = null;

  get running(): boolean {
    return this.#running !== null;
  }

  /** The stretch goes on to this instant, or begins at it. */
  hold(atMs: number): void {
    if (this.#running === null) {
      this.#running = { fromMs: atMs, toMs: atMs, spans: [], dayEndsMs: [], endedBy: null };
      this.stretches.push(this.#running);
    }
    this.#running.toMs = atMs;
  }

  credit(fromMs: number, toMs: number): void {
    const spans = this.#running?.spans ?? [];
    const last = spans.at(-1);
    if (last?.toMs === fromMs) last.toMs = toMs;
    else spans.push({ fromMs, toMs });
  }

  creditDay(startMs: number, endMs: number): void {
    this.credit(startMs, endMs);
    this.#running?.dayEndsMs.push(endMs);
  }

  note(finding: Finding, moment: Moment): void {
    if (finding !== 'held') {
      const last = this.incidents.at(-1);
      if (finding === this.#previous && last !== undefined) extend(last, moment);
      else this.incidents.push(incidentOf(finding, moment));
    }
    this.#previous = finding;
  }

  /** The last incident noted broke the stretch, if one was running. */
  breakOff(): void {
    if (this.#running !== null) this.#running.endedBy = this.incidents.at(-1) ?? null;
    this.#running = null;
  }

  gap(fromMs: number, toMs: number): void {
    this.incidents.push({ kind: 'gap', fromMs, toMs, checks: 0, extremeDeciC: null, checkId: null });
    this.#previous = null;
    this.breakOff();
  }
}

type Mutable<T> = { -readonly [K in keyof T]: T[K] extends readonly (infer E)[] ? Writable<E>[] : T[K] };
type Writable<T> = T extends Span ? { -readonly [K in keyof T]: T[K] } : T;

function incidentOf(kind: Trouble, moment: Moment): Mutable<Incident> {
  const extremeDeciC = extremeOf(kind, moment);
  return { kind, fromMs: moment.atMs, toMs: moment.atMs, checks: 1, extremeDeciC, checkId: moment.checkId };
}

function extend(incident: Mutable<Incident>, moment: Moment): void {
  incident.toMs = moment.atMs;
  incident.checks += 1;
  if (incident.kind === 'gap' || incident.extremeDeciC === null) return;
  const extremeDeciC = extremeOf(incident.kind, moment) ?? incident.extremeDeciC;
  const further =
    incident.kind === 'above-limit'
      ? extremeDeciC > incident.extremeDeciC
      : extremeDeciC < incident.extremeDeciC;
  if (further) Object.assign(incident, { extremeDeciC, checkId: moment.checkId });
}

function extremeOf(kind: Trouble, moment: Moment): number | null {
  if (kind === 'above-limit') return moment.highDeciC;
  return kind === 'below-threshold' || kind === 'after-turn' ? moment.lowDeciC : null;
}
