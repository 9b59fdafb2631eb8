import type { Check } from './facts.js';
import { momentsOf } from './moments.js';
import type { ProcessRule } from './rule.js';
import { sayCount } from './words.js';

/** A check by itself, as a rule looks at it. */
export interface JudgedCheck {
  readonly checkId: string;
  /** The temperature that governs: of the coldest probe, or the mean where the rule says so. Null without a probe that says anything. */
  readonly governingDeciC: number | null;
  /** Why it counts for nothing; null where it counts. */
  readonly lack: string | null;
}

/** How a rule looks at each check, in their order, before any question of time. */
export function judgeChecks(
  rule: Pick<ProcessRule, 'governing' | 'minimumProbes' | 'minimumDepthMm'>,
  checks: readonly Check[],
): JudgedCheck[] {
  return checks.flatMap((check) =>
    momentsOf([check], rule).map(({ checkId, lowDeciC, enough, lack }) => ({
      checkId,
      governingDeciC: Number.isFinite(lowDeciC) ? lowDeciC : null,
      lack: enough ? null : wordsOf(lack, rule),
    })),
  );
}

function wordsOf(
  lack: 'too-few-probes' | 'too-shallow',
  { minimumProbes, minimumDepthMm }: Pick<ProcessRule, 'minimumProbes' | 'minimumDepthMm'>,
): string {
  return lack === 'too-few-probes'
    ? `Fewer probes than the ${minimumProbes} asked for.`
    : `Fewer than ${sayCount(minimumProbes, 'probe')} known to be at ${(minimumDepthMm ?? 0) / 10} cm or deeper.`;
}
