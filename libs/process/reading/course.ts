import type { LocalDay } from '../calendar.js';
import type { Lack } from '../facts.js';
import type { MeanWindow } from './mean-window.js';
import type { Moment } from './moments.js';
import { reaches, type Terms } from './terms.js';

/** Why a moment did not hold. Those of {@link Lack} count for nothing: they neither earn nor break. */
export type Trouble = 'below-threshold' | 'above-limit' | 'after-turn' | 'too-dry' | Lack;
export type Finding = 'held' | Trouble;

/** A span that still grows. */
export interface GrowingSpan {
  fromMs: number;
  toMs: number;
}

/** Something that earned no time. Moments in a row with the same trouble are one incident. */
export interface Incident extends GrowingSpan {
  readonly kind: Trouble | 'gap';
  checks: number;
  /** Instants at which a logger read it. */
  readings: number;
  loggers: string[];
  /** The furthest from the rule: the coldest or hottest governing temperature, the driest measure in percent; null where the kind has none. */
  extreme: number | null;
  checkId: string | null;
}

/** An unbroken hot stretch, from the first check that held to the last one. */
export interface Stretch extends GrowingSpan {
  /** Credited time. Touching spans are joined. */
  spans: GrowingSpan[];
  /** For a daily rule: the end of each credited local day. */
  dayEndsMs: number[];
  /** Time at the rule's higher level. Touching spans are joined. */
  peaks: GrowingSpan[];
  /** When a window as long as the rule's duration first had the mean asked for. */
  meanAtMs: number | null;
  /** The mean since the stretch began; null before its second check, and where the rule asks for none. */
  meanDeciC: number | null;
  /** Which incident broke it; null while it runs. */
  endedBy: number | null;
}

/** A stretch that an incident broke. */
export interface Broken {
  readonly stretch: Stretch;
  /** Those that were counted in it. */
  readonly turns: number;
  /** False where it had all the time and turns it needed, and stays what counts. */
  readonly lost: boolean;
}

/** A local day that is not over as far as the records were read. */
export interface OpenDay extends LocalDay {
  held: boolean;
  excused: boolean;
  failed: boolean;
}

/**
 * What the moments of a period amount to, before turns and the rule's duration are looked at: as far as they were read,
 * and all that is needed to read on. Plain data that survives JSON.
 */
export interface Course {
  stretches: Stretch[];
  incidents: Incident[];
  /** The last stretch runs on. */
  running: boolean;
  previous: Finding | null;
  /** The last moment that had all the rule asks of a check. */
  shownMs: number | null;
  /** The last moment, where it held. */
  heldMs: number | null;
  /** The last turn that excuses a cold check: the first one since a check held. */
  turnedMs: number | null;
  /** No check held since that turn: further turns excuse nothing, or the time after them had no end. */
  graceTaken: boolean;
  dry: boolean;
  /** The last moment at the higher level in the running stretch, where nothing lower came after it. */
  peakMs: number | null;
  mean: MeanWindow | null;
  /** For a daily rule. */
  day: OpenDay | null;
  shownDay: LocalDay | null;
}

export function newCourse(): Course {
  return {
    stretches: [],
    incidents: [],
    running: false,
    previous: null,
    shownMs: null,
    heldMs: null,
    turnedMs: null,
    graceTaken: false,
    dry: false,
    peakMs: null,
    mean: null,
    day: null,
    shownDay: null,
  };
}

/** What a moment is by the rule; turns and measures of the same instant come before it. */
export function findingOf(moment: Moment, { turnedMs, dry }: Course, terms: Terms): Finding {
  if (moment.highDeciC > terms.upperLimitDeciC) return 'above-limit';
  if (!reaches(moment.lowDeciC, terms.level)) {
    return turnedMs !== null && moment.atMs - turnedMs <= terms.graceMs ? 'after-turn' : 'below-threshold';
  }
  return dry ? 'too-dry' : (moment.lack ?? 'held');
}

/** Lengthens the last span where the next one touches it. */
export function join(spans: GrowingSpan[], fromMs: number, toMs: number): void {
  const last = spans.at(-1);
  if (last?.toMs === fromMs) last.toMs = toMs;
  else spans.push({ fromMs, toMs });
}
