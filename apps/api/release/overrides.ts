import type { Gate } from '#libs/process';
import { type Fault, invalid, Problem } from '../http/problems/catalogue.js';
import type { OverrideDto } from './release.dto.js';
import type { SignedGate } from './release-facts.service.js';

const holdsBack = ({ state }: Gate) => state === 'unmet' || state === 'unknown';

/**
 * The gates with the reasons for which they are overridden. Refuses (422) an override of what is not there to be
 * overridden, and (409) a release that an unmet gate holds back, telling each.
 */
export function signedGates(gates: readonly Gate[], overrides: readonly OverrideDto[]): SignedGate[] {
  const reasons = reasonsFor(gates, overrides);
  const signed = gates.map((gate) => ({ ...gate, overrideReason: reasons.get(gate.key) ?? null }));
  const faults: Fault[] = signed
    .filter((gate) => holdsBack(gate) && gate.overrideReason === null)
    .map(({ key, text }) => ({ pointer: '/overrides', detail: `${key}: ${text}` }));
  if (faults.length > 0) throw new Problem('gates-unmet', undefined, faults);
  return signed;
}

function reasonsFor(gates: readonly Gate[], overrides: readonly OverrideDto[]): Map<string, string> {
  const reasons = new Map<string, string>();
  for (const [index, { gate: key, reason }] of overrides.entries()) {
    const pointer = `/overrides/${index}/gate`;
    const gate = gates.find((each) => each.key === key);
    if (!gate) throw invalid(pointer, 'is no gate of this batch');
    if (!holdsBack(gate)) throw invalid(pointer, `is ${gate.state}: there is nothing to override`);
    if (reasons.has(key)) throw invalid(pointer, 'was named before');
    reasons.set(key, reason);
  }
  return reasons;
}
