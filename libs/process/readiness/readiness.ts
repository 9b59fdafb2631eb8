import { limits } from '../advice/limits.js';
import { SiteCalendar, wholeMs } from '../calendar.js';
import { type Cured, noReheating, temperature } from './cured.js';
import type { ReadinessFacts, ReadinessFinding } from './facts.js';
import { inputs, smell, texture } from './signs.js';
import { tests } from './tests.js';

/**
 * The signs that a curing batch is ready, each by itself, as of `nowMs` (epoch milliseconds); empty while it does not cure.
 * Pure and total. They inform: the gates of a release ask for what the permit asks.
 */
export function readinessOf(facts: ReadinessFacts, nowMs: number): ReadinessFinding[] {
  const { curingSinceMs, lastRawAtMs } = facts;
  const now = wholeMs(nowMs);
  if (curingSinceMs === null || curingSinceMs > now) return [];
  const calendar = new SiteCalendar(facts.timeZone);
  const cured: Cured = {
    calendar,
    nowMs: now,
    checks: facts.checks
      .filter(({ occurredAtMs }) => occurredAtMs >= curingSinceMs && occurredAtMs <= now)
      .toSorted((a, b) => a.occurredAtMs - b.occurredAtMs || (a.id < b.id ? -1 : 1)),
    turnsMs: facts.turns
      .map(({ occurredAtMs }) => occurredAtMs)
      .filter((ms) => ms >= curingSinceMs && ms <= now)
      .toSorted((a, b) => a - b),
    reheatDeciC: facts.reheatDeciC ?? limits.reheatDeciC.at,
  };
  const samples = facts.samples.filter(({ occurredAtMs }) => occurredAtMs <= now);
  return [
    { key: 'temperature', title: 'Near the temperature of the air', ...temperature(cured) },
    { key: 'no-reheating', title: 'Stays cool after a turn', ...noReheating(cured) },
    { key: 'smell', title: 'Smell', ...smell(cured) },
    { key: 'texture', title: 'Texture', ...texture(cured) },
    { key: 'inputs', title: 'What went in is gone', ...inputs(cured) },
    ...tests(samples, lastRawAtMs, calendar),
  ];
}
