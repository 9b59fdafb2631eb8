import {
  evaluateProcess,
  processRule,
  type BatchFacts,
  type Check,
  type MoistureMeasure,
  type ProcessRule,
  type RuleReading,
  type Verdict,
} from '#libs/process';

/** Hour 0 of every case, when the batch is built: 6 May 2024 08:00 at an invented yard in the Mountain time zone. */
const builtMs = Date.parse('2024-05-06T08:00-06:00');

export function at(hours: number): number {
  return builtMs + Math.round(hours * 3_600_000);
}

export function ruleOf(code: string): ProcessRule {
  const rule = processRule(code);
  if (rule === undefined) throw new Error(`no rule ${code}`);
  return rule;
}

export function checkAt(hour: number, celsius: number, depthMm: number | null = 450): Check {
  const reading = { position: 'core', depthMm, temperatureDeciC: Math.round(celsius * 10) };
  return { id: `check-${hour}`, occurredAtMs: at(hour), readings: [reading] };
}

/** Checks every 12 hours from one hour to another, and at that one: all at one temperature, five of them at least. */
export function held(toHour: number, celsius: number, fromHour = 0): Check[] {
  const hours = toHour - fromHour;
  const every = Math.min(12, hours / 4);
  const before = Array.from({ length: Math.ceil(hours / every) }, (_, step) => fromHour + step * every);
  return [...before, toHour].map((hour) => checkAt(hour, celsius));
}

/** Water measured at the beginning, in the middle and at the end of so many hours. */
export function moistureOf(percent: number, hours: number): MoistureMeasure[] {
  return [0, hours / 2, hours].map((hour) => ({ occurredAtMs: at(hour), percent }));
}

export interface Case {
  readonly checks: readonly Check[];
  readonly turnHours?: readonly number[];
  readonly facts?: Partial<BatchFacts>;
  readonly reading?: RuleReading;
}

/** The verdict long after the last check. */
export function judge(code: string, { checks, turnHours = [], facts = {}, reading }: Case): Verdict {
  const built: BatchFacts = {
    timeZone: 'America/Denver',
    rawAdditions: [{ occurredAtMs: builtMs, what: 'food scraps' }],
    checks,
    turns: turnHours.map((hour) => ({ occurredAtMs: at(hour), kind: 'turn' })),
    ...facts,
  };
  return evaluateProcess(ruleOf(code), built, at(1000), reading);
}
