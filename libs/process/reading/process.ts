import { wholeMs } from '../calendar.js';
import { happeningsIn } from './happenings.js';
import { aheadIn, looksIn } from './looks.js';
import { ProcessReader } from './process-reader.js';
import { newState, type RecordedFacts, type ProcessState } from './process-state.js';
import type { ProcessRule, RuleReading } from '../rule.js';

/**
 * The state before anything was read. A long record can be read piece by piece, each with {@link advanceProcess}, and the
 * state kept as JSON in between; the verdict is {@link concludeProcess}'s. It is the same however the record was cut, as
 * long as every piece names the same mix.
 *
 * `reading` decides only where the rule does not say whether its time must be consecutive; the stricter is the default.
 */
export function beginProcess(
  rule: ProcessRule,
  timeZone: string,
  reading: RuleReading = 'consecutive',
): ProcessState {
  return newState(rule, timeZone, reading);
}

/**
 * Reads what was recorded after the instant already read through, up to and with `throughMs`, and hands back a new state.
 * What is later than `throughMs` is left out, to be passed again. What is not later than was read before is passed over,
 * as read already: a record that came late, was corrected or was voided needs a beginning anew. The mix and the
 * cautions have no instant: those given last stand, and where they are left out those given before.
 */
export function advanceProcess(state: ProcessState, facts: RecordedFacts, throughMs: number): ProcessState {
  const next = structuredClone(state);
  readOn(next, facts, throughMs);
  return next;
}

/** As {@link advanceProcess}, in the state that is given. */
export function readOn(state: ProcessState, facts: RecordedFacts, throughMs: number): void {
  const afterMs = state.readThroughMs ?? -Infinity;
  const untilMs = Math.max(wholeMs(throughMs), afterMs);
  if (facts.carbonToNitrogen !== undefined) state.carbonToNitrogen = facts.carbonToNitrogen;
  state.cautions = facts.cautions ?? state.cautions;

  const reader = new ProcessReader(state);
  const happenings = happeningsIn(facts, afterMs, untilMs).values();
  let happening = happenings.next();
  const catchUp = (ms: number) => {
    for (; !happening.done && happening.value.atMs <= ms; happening = happenings.next()) {
      reader.happen(happening.value);
    }
  };
  for (const moment of looksIn(facts, reader.terms, afterMs, untilMs)) {
    catchUp(moment.atMs);
    reader.look(moment);
  }
  catchUp(untilMs);
  state.readThroughMs = untilMs;
  state.ahead = aheadIn(facts, untilMs);
}
