import { wholeMs } from '../calendar.js';
import type { Check, Lack, ProbeReading } from '../facts.js';
import type { GoverningFigure } from '../rule.js';
import type { ProbeTerms } from './terms.js';

/** Water boils out of a pile before it gets hotter: above this a probe, or its unit, is wrong, or the pile smoulders. */
export const boilingDeciC = 1000;

/** What the checks and logger readings of one instant show. */
export interface Moment {
  readonly atMs: number;
  /** Governing temperature at the cold end; Infinity when no probe says anything. */
  readonly lowDeciC: number;
  /** Governing temperature at the hot end; -Infinity when no probe says anything. */
  readonly highDeciC: number;
  /** Why it cannot earn time, though it can break a run; null where it has all the rule asks of a check. */
  readonly lack: Lack | null;
  /** Null where a logger read it. */
  readonly checkId: string | null;
  /** Null where somebody went there. */
  readonly logger: string | null;
}

/**
 * Checks as moments in order of time. Checks of the same instant become one moment on which the worst of them stands,
 * so neither a check sent twice nor the order of two simultaneous ones can change a verdict.
 */
export function momentsOf(checks: readonly Check[], terms: ProbeTerms): Moment[] {
  const moments: Moment[] = [];
  for (const moment of inOrder(checks.map((check) => momentOf(check, terms)))) {
    const previous = moments.at(-1);
    if (previous?.atMs === moment.atMs) moments[moments.length - 1] = worseOf(previous, moment);
    else moments.push(moment);
  }
  return moments;
}

/** Sorted by time; a list already in order, as a logger's is, is passed on as it is. */
export function inOrder<T extends { readonly atMs: number }>(items: readonly T[]): readonly T[] {
  const ordered = items.every((item, index) => index === 0 || (items[index - 1]?.atMs ?? 0) <= item.atMs);
  return ordered ? items : items.toSorted((a, b) => a.atMs - b.atMs);
}

/**
 * Probes known to be too shallow are set aside, hot or cold: they measure what the rule does not ask about. One hotter
 * than boiling water says nothing, and makes the check doubtful. Probes of unknown depth cannot be counted, yet what
 * they show can only count against the batch, never for it.
 */
export function momentOf(
  { id, occurredAtMs, readings }: Check,
  terms: ProbeTerms,
): Moment & { readonly checkId: string } {
  const { minimumDepthMm, governing } = terms;
  const deep = readings.filter(
    ({ depthMm }) => minimumDepthMm === null || depthMm === null || depthMm >= minimumDepthMm,
  );
  const heard = deep.filter(({ temperatureDeciC }) => temperatureDeciC <= boilingDeciC);
  const counted = minimumDepthMm === null ? heard : heard.filter(({ depthMm }) => depthMm !== null);
  const figures = figuresOf(
    { counted, unsure: heard.filter((probe) => !counted.includes(probe)) },
    governing,
  );
  return {
    atMs: wholeMs(occurredAtMs),
    lowDeciC: figures.reduce((a, b) => Math.min(a, b), Infinity),
    highDeciC: figures.reduce((a, b) => Math.max(a, b), -Infinity),
    lack: heard.length < deep.length ? 'implausible' : lackOf(readings, counted, terms),
    checkId: id,
    logger: null,
  };
}

/** Of two moments at one instant, the colder with the hotter end of either; one with all that is asked is enough. */
export function worseOf(a: Moment, b: Moment): Moment {
  const { atMs, lowDeciC, lack, checkId, logger } = isColder(a, b) ? a : b;
  const highDeciC = Math.max(a.highDeciC, b.highDeciC);
  const enough = a.lack === null || b.lack === null;
  return { atMs, lowDeciC, highDeciC, lack: enough ? null : lack, checkId, logger };
}

/** Of two as cold the one named in the evidence is fixed, so that it does not depend on the order of the facts. */
function isColder(a: Moment, b: Moment): boolean {
  if (a.lowDeciC !== b.lowDeciC) return a.lowDeciC < b.lowDeciC;
  return a.checkId === null || b.checkId === null
    ? b.checkId === null && (a.logger ?? '') <= (b.logger ?? '')
    : a.checkId <= b.checkId;
}

function lackOf(
  readings: readonly ProbeReading[],
  counted: readonly ProbeReading[],
  { minimumProbes, minimumZones }: ProbeTerms,
): Lack | null {
  if (hasFewerProbes(readings, minimumProbes)) return 'too-few-probes';
  if (hasFewerZones(readings, minimumZones)) return 'too-few-zones';
  return hasFewerProbes(counted, minimumProbes) || hasFewerZones(counted, minimumZones)
    ? 'too-shallow'
    : null;
}

/** A probe read twice at one visit, in its place and depth, is one; one position at two depths is two. */
function hasFewerProbes(readings: readonly ProbeReading[], minimumProbes: number): boolean {
  if (readings.length < minimumProbes) return true;
  const probes = readings.map(({ position, depthMm, zone }) =>
    JSON.stringify([position, depthMm, zone ?? null]),
  );
  return minimumProbes > 1 && new Set(probes).size < minimumProbes;
}

function hasFewerZones(readings: readonly ProbeReading[], minimumZones: number): boolean {
  return minimumZones > 1 && new Set(readings.map(zoneOf)).size < minimumZones;
}

/** Probes that count, and those of which it is not known whether they do. */
interface Heard {
  readonly counted: readonly ProbeReading[];
  readonly unsure: readonly ProbeReading[];
}

/** The figures of which the lowest and the highest govern. */
function figuresOf(heard: Heard, governing: GoverningFigure): number[] {
  if (governing === 'coldest') return [...heard.counted, ...heard.unsure].map(deciCOf);
  if (governing === 'mean') return meansOf(heard);
  const counted = byZone(heard.counted);
  const unsure = byZone(heard.unsure);
  return [...new Set([...counted.keys(), ...unsure.keys()])].flatMap((zone) =>
    meansOf({ counted: counted.get(zone) ?? [], unsure: unsure.get(zone) ?? [] }),
  );
}

/**
 * The lowest and the highest mean of the probes that count together with any of those of unknown depth, so that these
 * can only count against the batch: the coldest of them lower it most, the hottest raise it most.
 */
function meansOf({ counted, unsure }: Heard): number[] {
  const known = counted.map(deciCOf);
  const coldestFirst = unsure.map(deciCOf).sort((a, b) => a - b);
  return [...meansWith(known, coldestFirst), ...meansWith(known, coldestFirst.toReversed())];
}

/** The mean of what is known, and with one more at a time of what is not. */
function meansWith(known: readonly number[], others: readonly number[]): number[] {
  let sum = known.reduce((total, deciC) => total + deciC, 0);
  const alone = known.length === 0 ? [] : [sum / known.length];
  return [...alone, ...others.map((deciC, index) => (sum += deciC) / (known.length + index + 1))];
}

function byZone(probes: readonly ProbeReading[]): Map<string, ProbeReading[]> {
  const zones = new Map<string, ProbeReading[]>();
  for (const probe of probes) {
    const zone = zoneOf(probe);
    const others = zones.get(zone);
    if (others === undefined) zones.set(zone, [probe]);
    else others.push(probe);
  }
  return zones;
}

const deciCOf = ({ temperatureDeciC }: ProbeReading): number => temperatureDeciC;

/** A probe of no named zone stands for the place it is in. */
function zoneOf({ zone, position }: ProbeReading): string {
  return zone === undefined || zone === null ? `at ${position}` : `zone ${zone}`;
}
