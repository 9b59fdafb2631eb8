import type { SiteCalendar } from '../calendar.js';
import type { GateSample, SampleOutcome } from '../gates/gate-facts.js';
import { assessSample } from '../maturity/index.js';
import type { ReadinessFinding, ReadinessState } from './facts.js';

const states: Record<SampleOutcome, ReadinessState> = {
  passed: 'yes',
  failed: 'no',
  information: 'not-known',
};

const readings: Record<SampleOutcome, string> = {
  passed: 'read by the manager as passed',
  failed: 'read by the manager as failed',
  information: 'kept for information',
};

/** The last sample of each kind, with the published classes of its figures. One of an older mix says nothing. */
export function tests(
  samples: readonly GateSample[],
  lastRawAtMs: number | null,
  calendar: SiteCalendar,
): ReadinessFinding[] {
  const kinds = [...new Set(samples.map(({ kind }) => kind))].toSorted();
  if (kinds.length === 0) {
    const text = 'No test of it is recorded.';
    return [{ key: 'tests', title: 'Tests', state: 'not-known', text, source: null }];
  }
  return kinds.flatMap((kind) => {
    const of = samples.filter((sample) => sample.kind === kind);
    const lastMs = Math.max(...of.map(({ occurredAtMs }) => occurredAtMs));
    const same = of.filter(({ occurredAtMs }) => occurredAtMs === lastMs);
    const [last] = [...same.filter(({ outcome }) => outcome === 'failed'), ...same];
    return last ? [finding(last, lastRawAtMs, calendar)] : [];
  });
}

function finding(sample: GateSample, lastRawAtMs: number | null, calendar: SiteCalendar): ReadinessFinding {
  const { kind, outcome, occurredAtMs, results } = sample;
  const told = `Sample of ${calendar.say(occurredAtMs)}, ${readings[outcome]}.`;
  const base = { key: `test:${kind}`, title: `Test: ${kind}`, source: null };
  if (lastRawAtMs !== null && occurredAtMs < lastRawAtMs) {
    const text = `${told} Raw material went in after it, on ${calendar.say(lastRawAtMs)}, so it was of another mix.`;
    return { ...base, state: 'not-known', text };
  }
  const classes = assessSample(results).flatMap((each) => (each.class === null ? [] : each.text));
  return { ...base, state: states[outcome], text: [told, ...classes].join(' ') };
}
