import { dayMs } from '../calendar.js';
import { sayTemperature } from '../words.js';
import type { CauseKey } from './causes.js';
import { limits } from './limits.js';
import type { Look } from './look.js';

/**
 * What the records say of a cause: a sentence where they speak for it, false where they speak against it. A cause that
 * they are silent on is not in it.
 */
export type Evidence = Partial<Record<CauseKey, string | false>>;

export type Wetness = 'dry' | 'right' | 'wet';

/** Moisture as it was last noted. */
export interface Moisture {
  readonly is: Wetness;
  /** "dry by the hand", "34 % water". */
  readonly words: string;
  readonly atMs: number;
}

export function moistureOf(look: Look): Moisture | null {
  const visit = look.noted(({ moisture, moisturePercent }) => moisture !== null || moisturePercent !== null);
  if (visit === null) return null;
  const { moisture, moisturePercent } = visit.check;
  if (moisturePercent !== null) {
    return {
      is: wetnessOf(moisturePercent),
      words: `${sayRounded(moisturePercent)} % water`,
      atMs: visit.atMs,
    };
  }
  const is = moisture === 'moist' ? 'right' : (moisture ?? 'right');
  return { is, words: `${moisture ?? ''} by the hand`, atMs: visit.atMs };
}

function wetnessOf(percent: number): Wetness {
  if (percent < limits.leastMoisturePercent.at) return 'dry';
  return percent > limits.mostMoisturePercent.at ? 'wet' : 'right';
}

/** Everything the records say about what may lie behind it. */
export function evidenceOf(look: Look): Evidence {
  return { ...ofMix(look), ...ofMoisture(look), ...ofAir(look), ...ofWeather(look), ...ofSpread(look) };
}

function ofMoisture(look: Look): Evidence {
  const moisture = moistureOf(look);
  if (moisture === null) return ofMixMoisture(look);
  const { is, words, atMs } = moisture;
  const text = `Check of ${look.at(atMs)}: ${words}.`;
  const dry = is === 'dry' ? text : false;
  return {
    dry,
    'dry-core': dry,
    wet: is === 'wet' ? text : false,
    'no-air-wet': is === 'wet' ? text : false,
  };
}

function ofMixMoisture({ facts: { mix } }: Look): Evidence {
  const percent = mix?.moisturePercent ?? null;
  if (percent === null) return {};
  const text = `The mix was built at ${sayRounded(percent)} % water.`;
  const is = wetnessOf(percent);
  if (is === 'right') return {};
  return is === 'dry' ? { dry: text } : { wet: text, 'no-air-wet': text };
}

function ofMix({ facts: { mix } }: Look): Evidence {
  if (mix === null) return {};
  const { carbonToNitrogen, volumeMl, bulkDensityKgM3 } = mix;
  const evidence: Evidence = {};
  if (carbonToNitrogen !== null) {
    const text = `The C:N of the mix is ${sayRounded(carbonToNitrogen)}.`;
    evidence['little-nitrogen'] = carbonToNitrogen > limits.mostCarbonToNitrogen.at ? text : false;
    if (carbonToNitrogen < limits.leastCarbonToNitrogen.at) evidence['much-nitrogen'] = text;
  }
  if (volumeMl !== null) {
    const text = `What went in fills about ${sayRounded(volumeMl / 1e6)} m³.`;
    evidence.small = volumeMl < limits.leastVolumeMl.at ? text : false;
    if (volumeMl < limits.leastVolumeMl.at) evidence.large = false;
  }
  if (bulkDensityKgM3 !== null) {
    const text = `The mix weighs about ${sayRounded(bulkDensityKgM3)} kg/m³.`;
    if (bulkDensityKgM3 > limits.mostDensityKgM3.at) evidence.dense = text;
    if (bulkDensityKgM3 <= limits.goodDensityKgM3.at) evidence.dense = false;
  }
  return evidence;
}

function ofAir(look: Look): Evidence {
  const oxygen = look.noted(({ oxygenPercent }) => oxygenPercent !== null);
  const percent = oxygen?.check.oxygenPercent ?? null;
  if (oxygen !== null && percent !== null && percent < limits.leastOxygenPercent.at) {
    return { 'little-air': `Check of ${look.at(oxygen.atMs)}: ${sayRounded(percent)} % oxygen.` };
  }
  const { method } = look.facts;
  const isTurned = method === 'turned-windrow' || method === 'turned-bins';
  const turnedMs = look.lastTurnMs;
  const stirredMs = Math.max(turnedMs ?? -Infinity, look.lastRawMs ?? -Infinity);
  if (!isTurned || !Number.isFinite(stirredMs) || look.nowMs - stirredMs < 7 * dayMs) return {};
  const text =
    turnedMs === stirredMs
      ? `It was last turned on ${look.at(stirredMs)}.`
      : `It was not turned since raw material went in on ${look.at(stirredMs)}.`;
  return { 'little-air': text };
}

function ofWeather(look: Look): Evidence {
  const visit = look.noted(({ ambientDeciC }) => ambientDeciC !== null);
  const ambient = visit?.check.ambientDeciC ?? null;
  if (visit === null || ambient === null) return {};
  if (ambient >= limits.coldAirDeciC.at) return { 'cold-air': false };
  return { 'cold-air': `Check of ${look.at(visit.atMs)}: air at ${sayTemperature(ambient)}.` };
}

function ofSpread(look: Look): Evidence {
  const { last } = look;
  if (last === null || last.coolest.name === last.warmest.name) return {};
  const { coolest, warmest } = last;
  if (warmest.deciC - coolest.deciC <= limits.agreementDeciC.at) return { mixing: false };
  return {
    mixing: `${look.of(last)}: ${warmest.name} and ${coolest.name} lie ${sayRounded((warmest.deciC - coolest.deciC) / 10)} °C apart.`,
  };
}

/** With one decimal at most. */
export function sayRounded(figure: number): string {
  return String(Math.round(figure * 10) / 10);
}
