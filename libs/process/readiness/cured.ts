import { limits } from '../advice/limits.js';
import { agriFutures, nrcs } from '../advice/sources.js';
import { dayMs, type SiteCalendar } from '../calendar.js';
import type { ObservedCheck } from '../observed.js';
import { sayLook, sayShown } from '../observed-words.js';
import { sayCount, sayTemperature } from '../words.js';
import type { ReadinessFinding } from './facts.js';

type Found = Pick<ReadinessFinding, 'state' | 'text' | 'source'>;

/** Facts since the cure began and up to now, in order of time. */
export interface Cured {
  readonly calendar: SiteCalendar;
  readonly nowMs: number;
  readonly checks: readonly ObservedCheck[];
  readonly turnsMs: readonly number[];
  readonly reheatDeciC: number;
}

/** By the last check that noted the air, and whatever was found hotter since. */
export function temperature({ calendar, nowMs, checks }: Cured): Found {
  const source = limits.curedAboveAirDeciC.source;
  const looks = checks.filter(({ readings }) => readings.length > 0);
  const last = looks.findLast(({ ambientDeciC }) => ambientDeciC !== null) ?? looks.at(-1);
  const unknown = (text: string): Found => ({ state: 'not-known', text, source });
  if (!last) return unknown('Neither a check nor a logger has read it since the cure began.');
  const hottest = hottestFrom(looks.slice(looks.indexOf(last)), last);
  const deciC = hottestOf(hottest);
  const found = `${sayLook(calendar, hottest)}: hottest probe ${sayTemperature(deciC, 'up')}`;
  if (nowMs - last.occurredAtMs > limits.freshDays.at * dayMs) {
    const days = Math.floor((nowMs - last.occurredAtMs) / dayMs);
    return unknown(`${found}; the air was last noted ${sayCount(days, 'day')} ago, or not at all.`);
  }
  if (last.ambientDeciC === null) return unknown(`${found}; nobody noted the air.`);
  const above = deciC - last.ambientDeciC;
  const told = `${found}, air ${sayTemperature(last.ambientDeciC)}: ${Math.round(Math.abs(above)) / 10} °C ${above < 0 ? 'below' : 'above'} it, where within about 5 °C counts as cured.`;
  if (above > limits.curedAboveAirDeciC.at) return { state: 'no', text: told, source };
  if (!isDry(checks)) return { state: 'yes', text: told, source };
  const text = `${told} But it is dry, and a dry pile cools whether or not it is ready.`;
  return { state: 'not-known', text, source: nrcs };
}

export function noReheating({ calendar, checks, turnsMs, reheatDeciC }: Cured): Found {
  const source = agriFutures;
  const turnMs = turnsMs.at(-1);
  if (turnMs === undefined) {
    const text = 'It was not turned since the cure began, so whether it would reheat is not shown.';
    return { state: 'not-known', text, source };
  }
  const turned = `Turned on ${calendar.say(turnMs)}`;
  const after = checks.filter(({ occurredAtMs, readings }) => occurredAtMs > turnMs && readings.length > 0);
  const [first] = after;
  if (first === undefined) return { state: 'not-known', text: `${turned}, and not read since.`, source };
  const hottest = hottestFrom(after, first);
  const most = `the hottest since is ${sayTemperature(hottestOf(hottest), 'up')}, ${sayShown(calendar, hottest)}`;
  const limit = sayTemperature(reheatDeciC);
  if (hottestOf(hottest) >= reheatDeciC) {
    return { state: 'no', text: `${turned}: ${most}, at or above ${limit}.`, source };
  }
  const watched = (after.at(-1)?.occurredAtMs ?? turnMs) - turnMs;
  if (watched < limits.reheatDays.at * dayMs) {
    const text = `${turned}: ${most}, below ${limit}, but a pile may take ${limits.reheatDays.at} days to reheat.`;
    return { state: 'not-known', text, source };
  }
  return { state: 'yes', text: `${turned}: ${most}, below ${limit}.`, source };
}

/** By the last check that noted its moisture. */
function isDry(checks: readonly ObservedCheck[]): boolean {
  const last = checks.findLast(
    ({ moisture, moisturePercent }) => moisture !== null || moisturePercent !== null,
  );
  if (!last) return false;
  return last.moisturePercent === null
    ? last.moisture === 'dry'
    : last.moisturePercent < limits.leastMoisturePercent.at;
}

function hottestOf({ readings }: ObservedCheck): number {
  return readings.reduce((most, { temperatureDeciC }) => Math.max(most, temperatureDeciC), -Infinity);
}

/** The hottest of several, the first of them where two are as hot. */
function hottestFrom(looks: readonly ObservedCheck[], first: ObservedCheck): ObservedCheck {
  return looks.reduce((most, look) => (hottestOf(look) > hottestOf(most) ? look : most), first);
}
