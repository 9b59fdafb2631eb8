import type { Check, Lack } from '../facts.js';
import { sayShallow } from '../evidence/incident-sentences.js';
import { momentOf } from './moments.js';
import { probeTermsOf, type ProbeTerms } from './terms.js';

/** A check by itself, as a rule looks at it. */
export interface JudgedCheck {
  readonly checkId: string;
  /** The temperature that governs: of the coldest probe or zone, or the mean, as the rule says. Null without a probe that says anything. */
  readonly governingDeciC: number | null;
  /** Why it cannot earn time, as a sentence; null where it can. */
  readonly lack: string | null;
}

/** How a rule looks at each check, in their order, before any question of time. */
export function judgeChecks(rule: ProbeTerms, checks: readonly Check[]): JudgedCheck[] {
  const terms = probeTermsOf(rule);
  return checks.map((check) => {
    const { checkId, lowDeciC, lack } = momentOf(check, terms);
    return {
      checkId,
      governingDeciC: Number.isFinite(lowDeciC) ? lowDeciC : null,
      lack: lack === null ? null : wordsOf(lack, terms),
    };
  });
}

function wordsOf(lack: Lack, terms: ProbeTerms): string {
  switch (lack) {
    case 'implausible':
      return 'Hotter than boiling water: check the probe and its unit.';
    case 'too-few-probes':
      return `Fewer probes than the ${terms.minimumProbes} asked for.`;
    case 'too-few-zones':
      return `Fewer zones than the ${terms.minimumZones} asked for.`;
    case 'too-shallow':
      return `F${sayShallow(terms).slice(1)}.`;
  }
}
