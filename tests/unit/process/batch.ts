import {
  evaluateProcess,
  type BatchFacts,
  type Check,
  type Evidence,
  type EvidenceKind,
  type ProcessRule,
  type RuleReading,
  type Verdict,
} from '#libs/process';

/** Hour 0 of every example: 6 May 2024 08:00 at an invented yard in the Mountain time zone. */
export const startMs = Date.parse('2024-05-06T08:00-06:00');
export const timeZone = 'America/Denver';
export const hourMs = 3_600_000;

/** So many hours after hour 0. */
export function at(hours: number): number {
  return startMs + hours * hourMs;
}

/** An invented rule, simple where an example does not say otherwise: 48 hours at 55 °C, checks at most 24 hours apart. */
export function ruleWith(changes: Partial<ProcessRule> = {}): ProcessRule {
  return {
    code: 'example',
    version: 1,
    title: 'Example',
    purpose: 'pathogen-reduction',
    jurisdiction: 'Example County',
    region: null,
    citation: 'Example County Code 1',
    year: 2024,
    textStatus: 'verified',
    textSource: 'invented for an example',
    fromMemory: [],
    thresholdDeciC: 550,
    thresholdStrict: false,
    upperLimitDeciC: null,
    duration: { hours: 48 },
    peak: null,
    average: null,
    basis: 'elapsed',
    continuity: 'consecutive',
    governing: 'coldest',
    minimumProbes: 1,
    minimumZones: 1,
    minimumDepthMm: null,
    longestGapHours: 24,
    turns: null,
    graceAfterTurnHours: null,
    moisture: null,
    carbonToNitrogen: null,
    microbes: null,
    methods: ['turned-windrow'],
    notes: [],
    ...changes,
  };
}

/** A check with one probe for each temperature (tenths of °C), none of known depth. */
export function check(hours: number, ...temperaturesDeciC: number[]): Check {
  return {
    id: `check-${hours}`,
    occurredAtMs: at(hours),
    readings: temperaturesDeciC.map((temperatureDeciC, index) => ({
      position: `probe-${index + 1}`,
      depthMm: null,
      temperatureDeciC,
    })),
  };
}

export function turn(hours: number, kind: 'turn' | 'move' = 'turn') {
  return { occurredAtMs: at(hours), kind };
}

export function raw(hours: number, what = 'food scraps') {
  return { occurredAtMs: at(hours), what };
}

/** A batch built at hour 0, unless an example says otherwise. */
export function batch(facts: Partial<BatchFacts> = {}): BatchFacts {
  return { timeZone, rawAdditions: [raw(0)], checks: [], turns: [], ...facts };
}

/** The verdict on checks given as [hour, temperature…], as of the last of them. */
export function verdictOf(
  checks: readonly Check[],
  options: {
    rule?: Partial<ProcessRule>;
    facts?: Partial<BatchFacts>;
    now?: number;
    reading?: RuleReading;
  } = {},
): Verdict {
  const nowMs =
    options.now === undefined
      ? Math.max(startMs, ...checks.map((each) => each.occurredAtMs))
      : at(options.now);
  return evaluateProcess(ruleWith(options.rule), batch({ checks, ...options.facts }), nowMs, options.reading);
}

/** The evidence of one kind. */
export function of(verdict: Verdict, kind: EvidenceKind): Evidence[] {
  return verdict.evidence.filter((each) => each.kind === kind);
}

/** Instants of a verdict as hours after hour 0. */
export function hoursOf(ms: number | null): number | null {
  return ms === null ? null : (ms - startMs) / hourMs;
}
