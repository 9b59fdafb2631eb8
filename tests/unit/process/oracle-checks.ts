import type { BatchFacts, Check, LoggerReading, ProbeReading, ProcessRule } from '#libs/process';

export const minuteMs = 60_000;
const boilingDeciC = 1000;

/** What is known of a batch, with the readings of its loggers as they were taken. */
export interface Notebook extends Omit<BatchFacts, 'series'> {
  readonly loggers: readonly { readonly logger: string; readonly readings: readonly LoggerReading[] }[];
}

/**
 * What an instant says of the batch: it held, it did not but a turn excuses it, it broke whatever was running, or
 * nothing. `enough`: some check of that instant had the probes that the rule asks for.
 */
export interface Said {
  readonly word: 'held' | 'excused' | 'broke' | 'nothing';
  readonly enough: boolean;
  /** The worst that was read, cold end. */
  readonly lowDeciC: number;
}

interface Judged {
  lowDeciC: number;
  highDeciC: number;
  enough: boolean;
}

/** What each instant says, by the checks of the hand and of every logger; the worst of one instant stands. */
export function sayings(rule: ProcessRule, notebook: Notebook, sinceMs: number, nowMs: number) {
  const instants = new Map<number, Judged>();
  for (const check of [...notebook.checks, ...notebook.loggers.flatMap(({ readings }) => visits(readings))]) {
    if (check.occurredAtMs < sinceMs || check.occurredAtMs > nowMs) continue;
    const one = judge(rule, check.readings);
    const other = instants.get(check.occurredAtMs) ?? one;
    instants.set(check.occurredAtMs, {
      lowDeciC: Math.min(one.lowDeciC, other.lowDeciC),
      highDeciC: Math.max(one.highDeciC, other.highDeciC),
      enough: one.enough || other.enough,
    });
  }
  const said = new Map<number, Said>();
  for (const [atMs, judged] of [...instants].sort(([a], [b]) => a - b)) {
    const word = wordFor(rule, judged, {
      dry: dryAt(rule, notebook, sinceMs, atMs),
      excused: excusedAt(rule, notebook, { sinceMs, atMs, said }),
    });
    said.set(atMs, { word, enough: judged.enough, lowDeciC: judged.lowDeciC });
  }
  return said;
}

function wordFor(rule: ProcessRule, judged: Judged, is: { dry: boolean; excused: boolean }): Said['word'] {
  if (judged.highDeciC > (rule.upperLimitDeciC ?? Infinity)) return 'broke';
  if (judged.enough && is.dry) return 'broke';
  if (!reaches(judged.lowDeciC, rule.thresholdDeciC, rule.thresholdStrict))
    return is.excused ? 'excused' : 'broke';
  return judged.enough ? 'held' : 'nothing';
}

export function reaches(deciC: number, thresholdDeciC: number, strict: boolean): boolean {
  return strict ? deciC > thresholdDeciC : deciC >= thresholdDeciC;
}

/** The readings of one logger, those of one instant being one check. */
function visits(readings: readonly LoggerReading[]): Pick<Check, 'occurredAtMs' | 'readings'>[] {
  return [...grouped(readings, ({ atMs }) => atMs)].map(([occurredAtMs, probes]) => ({
    occurredAtMs,
    readings: probes,
  }));
}

/**
 * A probe of unknown depth may be deep enough or not: the check is judged with every choice of them, and the coldest and
 * the hottest of the outcomes stand.
 */
function judge(rule: ProcessRule, readings: readonly ProbeReading[]): Judged {
  const least = rule.minimumDepthMm ?? -Infinity;
  const notShallow = readings.filter(({ depthMm }) => depthMm === null || depthMm >= least);
  const believable = notShallow.filter(({ temperatureDeciC }) => temperatureDeciC <= boilingDeciC);
  const sure = believable.filter(({ depthMm }) => depthMm !== null || rule.minimumDepthMm === null);
  const unsure = believable.filter((probe) => !sure.includes(probe));
  const outcomes = choicesOf(unsure)
    .map((some) => [...sure, ...some])
    .filter((probes) => probes.length > 0)
    .flatMap((probes) => figures(rule, probes));
  return {
    lowDeciC: Math.min(...outcomes),
    highDeciC: Math.max(...outcomes),
    enough:
      believable.length === notShallow.length &&
      sure.length >= Math.max(1, rule.minimumProbes) &&
      places(sure).length >= rule.minimumZones,
  };
}

/** Every way to take some of them, or none. */
function choicesOf<T>(items: readonly T[]): T[][] {
  return items.reduce<T[][]>((some, item) => [...some, ...some.map((each) => [...each, item])], [[]]);
}

/** The figures of which the coldest and the hottest are held against the rule. */
function figures(rule: ProcessRule, probes: readonly ProbeReading[]): number[] {
  if (rule.governing === 'mean') return [mean(probes)];
  if (rule.governing === 'coldest-zone') return places(probes).map(mean);
  return probes.map(({ temperatureDeciC }) => temperatureDeciC);
}

/** The probes of each place; one that names no zone stands for itself. */
function places(probes: readonly ProbeReading[]): ProbeReading[][] {
  return [...grouped(probes, ({ zone, position }) => zone ?? position).values()];
}

function grouped<T, K>(items: readonly T[], keyOf: (item: T) => K): Map<K, T[]> {
  const groups = new Map<K, T[]>();
  for (const item of items) groups.set(keyOf(item), [...(groups.get(keyOf(item)) ?? []), item]);
  return groups;
}

function mean(probes: readonly ProbeReading[]): number {
  return probes.reduce((sum, { temperatureDeciC }) => sum + temperatureDeciC, 0) / probes.length;
}

/** Whether the last measure of water, the lowest of several at one instant, was below what the rule asks. */
function dryAt(rule: ProcessRule, { moistures = [] }: Notebook, sinceMs: number, atMs: number): boolean {
  if (rule.moisture === null) return false;
  const earlier = moistures.filter(({ occurredAtMs }) => occurredAtMs >= sinceMs && occurredAtMs <= atMs);
  const lastMs = Math.max(...earlier.map(({ occurredAtMs }) => occurredAtMs));
  const { leastPercent } = rule.moisture;
  return earlier.some(({ occurredAtMs, percent }) => occurredAtMs === lastMs && percent < leastPercent);
}

/**
 * Whether a turn lately cooled the batch. One that follows another, with nothing that held between them, explains no
 * cold that the other does not. A turn of the same instant as a check comes before it.
 */
function excusedAt(
  rule: ProcessRule,
  { turns }: Notebook,
  { sinceMs, atMs, said }: { sinceMs: number; atMs: number; said: ReadonlyMap<number, Said> },
): boolean {
  const graceMs = (rule.graceAfterTurnHours ?? -1) * 60 * minuteMs;
  const held = [...said].filter(([, { word }]) => word === 'held').map(([ms]) => ms);
  const turned = turns.map(({ occurredAtMs }) => occurredAtMs).filter((ms) => ms >= sinceMs && ms <= atMs);
  return turned.some((turnMs) => {
    if (atMs - turnMs > graceMs) return false;
    const before = turned.filter((ms) => ms < turnMs);
    return before.every((ms) => held.some((heldMs) => ms <= heldMs && heldMs < turnMs));
  });
}
