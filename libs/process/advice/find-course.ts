import { dayMs } from '../calendar.js';
import { sayCount, sayTemperature } from '../words.js';
import { moistureOf } from './evidence.js';
import type { Finding } from './finding.js';
import { limits } from './limits.js';
import type { Look, Visit } from './look.js';
import { agriFutures, bioAbfV, nrcs, surrey, utah } from './sources.js';

/** Nobody probed it lately. */
export function notChecked(look: Look): Finding | null {
  const { stage } = look.facts;
  const active = stage === 'active';
  if (!active && stage !== 'building' && stage !== 'curing') return null;
  const sinceMs = look.last?.atMs ?? look.lastRawMs;
  if (sinceMs === null) return null;
  const days = Math.floor((look.nowMs - sinceMs) / dayMs);
  if (days < (active ? 3 : 8)) return null;
  const seen = look.last
    ? `The ${lastOf(look.last)} was on ${look.at(sinceMs)}, ${sayCount(days, 'day')} ago.`
    : `Neither a check nor a logger has read it since raw material went in on ${look.at(sinceMs)}, ${sayCount(days, 'day')} ago.`;
  return {
    key: 'not-checked',
    urgency: active && days >= 7 ? 'soon' : 'watch',
    seen: [seen],
    because: active
      ? 'A working pile in the open is probed at least once each working day.'
      : 'A stored pile is probed once a week.',
    source: active ? bioAbfV : surrey,
  };
}

const lastOf = ({ check: { logger } }: Visit): string =>
  logger === undefined ? 'last check' : `last reading, of logger ${logger},`;

/** An active pile that never got hot since raw material last went in. */
export function notHeating(look: Look): Finding | null {
  const { lastRawMs, last, sinceRaw } = look;
  if (look.facts.stage !== 'active' || lastRawMs === null || last === null) return null;
  const peak = peakOf(sinceRaw);
  if (peak === null) return null;
  const days = Math.floor((last.atMs - lastRawMs) / dayMs);
  const late = days >= limits.heatingDays.at && peak.hottest.deciC < limits.operatingDeciC.at;
  const slow = days >= limits.warmingDays.at && peak.hottest.deciC < limits.warmDeciC.at;
  if (!late && !slow) return null;
  return {
    key: 'not-heating',
    urgency: late ? 'soon' : 'watch',
    seen: [
      `Raw material last went in on ${look.at(lastRawMs)}, ${sayCount(days, 'day')} before the ${lastOf(last)}.`,
      ...(peak === last ? [] : [look.hottest(last)]),
      `The hottest since then is ${sayTemperature(peak.hottest.deciC, 'up')}, ${look.shown(peak)}.`,
    ],
    because: `A pile should reach ${sayTemperature(limits.operatingDeciC.at)} within about 7 days; one that does not is looked into for moisture, air space and mixing.`,
    source: limits.heatingDays.source,
  };
}

/**
 * An active pile that was hot and has cooled. Dry or wet it is likely stalled; moist and not reheating after a turn, its hot
 * phase is likely over; otherwise nothing tells yet.
 */
export function cooled(look: Look): Finding | null {
  const { last, sinceRaw } = look;
  const peak = peakOf(sinceRaw);
  if (look.facts.stage !== 'active' || last === null || peak === null) return null;
  const wasHot = peak.hottest.deciC >= limits.operatingDeciC.at;
  const standing = look.standing ?? last;
  if (!wasHot || standing.hottest.deciC >= limits.warmDeciC.at || last.atMs < peak.atMs) return null;
  const moisture = moistureOf(look);
  const seen = [
    `It had been at ${sayTemperature(peak.hottest.deciC)}, ${look.shown(peak)}.`,
    look.hottest(last),
    ...airOf(last),
    moisture === null
      ? 'Nobody noted its moisture lately.'
      : `Check of ${look.at(moisture.atMs)}: ${moisture.words}.`,
  ];
  if (moisture !== null && moisture.is !== 'right') {
    const because =
      'A pile whose temperature falls early is looked into for moisture, air space and mixing: it is more likely stalled than finished.';
    return { key: 'stalled', urgency: 'soon', seen, because, source: nrcs };
  }
  const turnedMs = turnAfterCooling(look, peak);
  if (moisture !== null && turnedMs !== null) {
    const after = `It was turned on ${look.at(turnedMs)} and has not reheated.`;
    const because = `Curing can begin when a pile stays below ${sayTemperature(limits.reheatDeciC.at)}, even after a turn.`;
    return { key: 'finishing', urgency: 'watch', seen: [...seen, after], because, source: agriFutures };
  }
  const because =
    'A pile that still has food in it reheats after it is turned; one whose hot phase is over does not.';
  return { key: 'cooled', urgency: 'soon', seen, because, source: utah };
}

/** A turn after the pile had cooled, with a check long enough after it and none hot; null where there was none. */
function turnAfterCooling(look: Look, peak: Visit): number | null {
  const cool = look.visits.find(
    ({ atMs, hottest }) => atMs > peak.atMs && hottest.deciC < limits.warmDeciC.at,
  );
  const turnMs = cool === undefined ? null : look.turnedAfter(cool.atMs);
  if (turnMs === null) return null;
  const after = look.visits.filter(({ atMs }) => atMs > turnMs);
  const stayedCool = after.every(({ hottest }) => hottest.deciC < limits.warmDeciC.at);
  const lastMs = after.at(-1)?.atMs ?? turnMs;
  return stayedCool && lastMs - turnMs >= limits.reheatDays.at * dayMs ? turnMs : null;
}

function peakOf(visits: readonly Visit[]): Visit | null {
  return visits.reduce<Visit | null>(
    (most, visit) => (most === null || visit.hottest.deciC > most.hottest.deciC ? visit : most),
    null,
  );
}

function airOf({ check: { ambientDeciC }, hottest }: Visit): string[] {
  if (ambientDeciC === null) return [];
  const above = Math.round(hottest.deciC - ambientDeciC) / 10;
  return [`The air was at ${sayTemperature(ambientDeciC)}, so the pile is ${above} °C above it.`];
}
