import type { SiteCalendar } from '../calendar.js';
import type { Gate, GateFacts, GateSample } from './gate-facts.js';
import { type Finding, noPermit } from './gate-finding.js';
import { contradictionsOf, microbeStanding, type SampleResult } from '../maturity/index.js';

/** The kind of sample that a rule's tests of the product decide on. */
const pathogens = 'pathogens';

export function samplesPassed(facts: GateFacts, calendar: SiteCalendar): Gate[] {
  const { permit } = facts;
  const all = { key: 'samples', title: 'Samples' };
  if (permit === null) return [{ ...all, ...noPermit('which samples it asks for') }];
  if (permit.requiredSamples.length === 0) {
    return [{ ...all, state: 'not-required', text: `Permit ${permit.reference} asks for no samples.` }];
  }
  return permit.requiredSamples.map((kind) => ({
    key: `sample:${kind}`,
    title: `Sample: ${kind}`,
    ...samplePassed(kind, facts, calendar),
  }));
}

/** The last sample that was judged decides; one from before the last raw material or merge was of another mix. */
function samplePassed(kind: string, facts: GateFacts, calendar: SiteCalendar): Finding {
  const { lastRawAtMs, lastMerge = null } = facts;
  const judged = facts.samples.filter((sample) => sample.kind === kind && sample.outcome !== 'information');
  const lastAtMs = Math.max(...judged.map(({ occurredAtMs }) => occurredAtMs));
  const last = judged.filter(({ occurredAtMs }) => occurredAtMs === lastAtMs);
  if (last.length === 0) return { state: 'unmet', text: `No ${kind} sample has been judged yet.` };
  const of = `The last ${kind} sample, of ${calendar.say(lastAtMs)},`;
  const against = last.flatMap(({ outcome, results }) => contradictionsOf(outcome, results, facts.microbes));
  const told = (state: Finding['state'], text: string): Finding => ({
    state,
    text: [text, ...against].join(' '),
  });
  if (last.some(({ outcome }) => outcome === 'failed')) return told('unmet', `${of} failed.`);
  if (lastRawAtMs !== null && lastAtMs < lastRawAtMs) {
    return told('unmet', `${of} passed, but raw material went in after it, on ${calendar.say(lastRawAtMs)}.`);
  }
  if (lastMerge !== null && lastAtMs < lastMerge.atMs) {
    const since = `batch ${lastMerge.code} was merged in after it, on ${calendar.say(lastMerge.atMs)}`;
    return told('unmet', `${of} passed, but ${since}.`);
  }
  if (kind !== pathogens || facts.microbes.length === 0) return told('met', `${of} passed.`);
  const mixedAtMs = Math.max(lastRawAtMs ?? -Infinity, lastMerge?.atMs ?? -Infinity);
  const ofThisMix = judged.filter(({ occurredAtMs }) => occurredAtMs >= mixedAtMs);
  return pathogensMeet(ofThisMix, of, facts);
}

/** The figures are held against the tests of each rule, which says whether one of them is enough. */
function pathogensMeet(samples: readonly GateSample[], of: string, { microbes }: GateFacts): Finding {
  const results = latestOfEach(samples);
  const standings = microbes.map((rule) => microbeStanding(rule, results));
  const states = standings.map(({ state }) => state);
  const state = states.includes('unmet') ? 'unmet' : states.includes('unknown') ? 'unknown' : 'met';
  const passed = state === 'unmet' ? `${of} was read as passed, against the figures.` : `${of} passed.`;
  return { state, text: [passed, ...standings.map(({ text }) => text)].join(' ') };
}

/** Of each test the figures of the last sample that has any: a test made again stands for the one before it. */
function latestOfEach(samples: readonly GateSample[]): SampleResult[] {
  const latest = new Map<string, { atMs: number; results: SampleResult[] }>();
  for (const { occurredAtMs: atMs, results } of samples) {
    for (const result of results) {
      const kept = latest.get(result.parameter);
      if (!kept || atMs > kept.atMs) latest.set(result.parameter, { atMs, results: [result] });
      else if (atMs === kept.atMs) kept.results.push(result);
    }
  }
  return [...latest.values()].flatMap(({ results }) => results);
}
