import type { Check, Lack } from './facts.js';
import { momentOf } from './moments.js';
import { probeTermsOf, type ProbeTerms } from './terms.js';
import { sayCount } from './words.js';

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
      lack: lack === null ? null : wordsOf(lack, rule),
    };
  });
}

function wordsOf(lack: Lack, { minimumProbes, minimumZones, minimumDepthMm }: ProbeTerms): string {
  switch (lack) {
    case 'implausible':
      return 'A probe hotter than boiling water: look at the probe and its unit.';
    case 'too-few-probes':
      return `Fewer probes than the ${minimumProbes} asked for.`;
    case 'too-few-zones':
      return `Fewer zones than the ${minimumZones} asked for.`;
    case 'too-shallow':
      return `Fewer than ${sayCount(minimumProbes, 'probe')} ${minimumZones > 1 ? `in ${minimumZones} zones ` : ''}known to be at ${(minimumDepthMm ?? 0) / 10} cm or deeper.`;
  }
}
