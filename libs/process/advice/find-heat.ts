import { dayMs } from '../calendar.js';
import { boilingDeciC } from '../reading/moments.js';
import { sayTemperature } from '../words.js';
import type { Finding } from './finding.js';
import { heatBands, limits } from './limits.js';
import type { Look } from './look.js';
import { dryHotWindow } from './sources.js';
import { moistureOf, sayRounded } from './evidence.js';

/** By the hottest place that nobody has found cooler since: a fire begins at one place, and a cool edge does not put it out. */
export function tooHot(look: Look): Finding | null {
  const { last, standing } = look;
  const alarmed = alarm(look);
  if (alarmed !== null) return alarmed;
  const band = standing && heatBands.find(({ deciC, strict }) => isAt(standing.hottest.deciC, deciC, strict));
  if (!last || !standing || !band) return null;
  const turnedMs = look.turnedAfter(standing.atMs);
  const moisture = moistureOf(look);
  const seen = [
    look.hottest(standing),
    ...(last.atMs > standing.atMs
      ? [`${look.of(last)}: that place was not read again, so it does not show that it has cooled.`]
      : []),
    // Water boils out of a pile before it gets hotter, unless it smoulders.
    ...(standing.hottest.deciC > boilingDeciC
      ? ['That is hotter than boiling water: either the pile smoulders, or the probe or the unit is wrong.']
      : []),
    ...(moisture?.is === 'dry'
      ? [
          `It was ${moisture.words} at the check of ${look.at(moisture.atMs)}: ${dryHotWindow.title} (from memory) names dry and hot together.`,
        ]
      : []),
    ...(turnedMs === null ? [] : [`It was turned since, on ${look.at(turnedMs)}.`]),
  ];
  const urgency = band.key === 'hot' ? 'watch' : band.key === 'too-hot' ? 'soon' : 'now';
  return { key: band.key, urgency, seen, because: band.says, source: band.source };
}

/** A probe that showed more than boiling water within the last day is broken, or tells of a fire: until somebody has looked, of a fire. */
function alarm({ nowMs, facts }: Look): Finding | null {
  const told = (facts.alarms ?? []).filter(({ fromMs, toMs }) => fromMs <= nowMs && nowMs - toMs <= dayMs);
  const [band] = heatBands;
  if (told.length === 0 || band === undefined) return null;
  const { key, says, source } = band;
  return { key, urgency: 'now', seen: told.map(({ text }) => text), because: says, source };
}

/** In the cure, a pile that is hot again. */
export function reheated(look: Look): Finding | null {
  const { last } = look;
  const { stage, stageSinceMs } = look.facts;
  if (stage !== 'curing' || !last || last.atMs < stageSinceMs) return null;
  if (last.hottest.deciC < limits.reheatDeciC.at) return null;
  const turnedMs = look.lastTurnMs;
  return {
    key: 'reheated',
    urgency: last.hottest.deciC >= limits.operatingDeciC.at ? 'soon' : 'watch',
    seen: [look.hottest(last), ...(turnedMs === null ? [] : [`The last turn was on ${look.at(turnedMs)}.`])],
    because: `A pile that cures stays below ${sayTemperature(limits.reheatDeciC.at)}, even after a turn.`,
    source: limits.reheatDeciC.source,
  };
}

/** An active pile whose places differ. */
export function unevenHeating(look: Look): Finding | null {
  const { last } = look;
  if (look.facts.stage !== 'active' || !last) return null;
  const { warmest, coolest } = last;
  const spread = warmest.deciC - coolest.deciC;
  if (spread <= limits.agreementDeciC.at || warmest.deciC < limits.warmDeciC.at) return null;
  const operating = limits.operatingDeciC.at;
  const part = warmest.deciC >= operating && coolest.deciC < operating;
  return {
    key: 'uneven-heating',
    urgency: part ? 'soon' : 'watch',
    seen: [
      `${look.of(last)}: ${warmest.name} ${sayTemperature(warmest.deciC)}, ${coolest.name} ${sayTemperature(coolest.deciC)}, ${sayRounded(spread / 10)} °C apart.`,
    ],
    because: 'Probes that agree within 10 °F (5.6 °C) need not stand closer together; others should.',
    source: limits.agreementDeciC.source,
  };
}

function isAt(deciC: number, limit: number, strict: boolean): boolean {
  return strict ? deciC > limit : deciC >= limit;
}
