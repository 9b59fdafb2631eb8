import {
  evaluateCure,
  gatesOf,
  type Gate,
  type GateFacts,
  type GatePermit,
  type GateSample,
} from '#libs/process';
import { at, check, timeZone, verdictOf } from './batch.js';

/** As a programme calls them: "Food scraps". */
export const named = (...codes: string[]): GateFacts['materials'] =>
  codes.map((code) => ({ code, name: code.charAt(0).toUpperCase() + code.slice(1).replace('-', ' ') }));

export const permit: GatePermit = {
  reference: 'LH-7',
  validFrom: '2024-01-01',
  validTo: '2024-12-31',
  processRule: 'example',
  cureDays: 30,
  requiredSamples: ['maturity'],
  materials: ['food-scraps', 'leaves'],
};

export const hot = [check(0, 600), check(24, 600), check(48, 600)];
export const sample = (
  hours: number,
  outcome: GateSample['outcome'],
  kind = 'maturity',
  results: GateSample['results'] = [],
): GateSample => ({ kind, occurredAtMs: at(hours), outcome, results });
export const noLevel =
  'Neither the permit nor a process rule names a temperature, so no reheating interrupts the days.';
export const cureOf = (hoursAgo: number, now: number) =>
  evaluateCure(
    { cureDays: 30, startedAtMs: at(now - hoursAgo), checks: [], turns: [], reheatDeciC: null },
    at(now),
    timeZone,
  );

export const DAY = 24;
export const NOW = 60 * DAY;

/** A batch with nothing against it, 60 days after it was built. */
export const good: GateFacts = {
  timeZone,
  permit,
  foundingPermit: permit,
  process: verdictOf(hot),
  furtherProcesses: [],
  microbes: [],
  cure: cureOf(40 * DAY, NOW),
  samples: [sample(50 * DAY, 'passed')],
  lastRawAtMs: at(0),
  materials: named('food-scraps', 'leaves'),
  inputG: 1_000_000,
  outputG: 412_345,
  hold: null,
};

export const gates = (changes: Partial<GateFacts> = {}, now = NOW) =>
  gatesOf({ ...good, ...changes }, at(now));
export const gate = (key: string, changes: Partial<GateFacts> = {}, now = NOW): Gate | undefined =>
  gates(changes, now).gates.find((each) => each.key === key);
