import type { ProcessRule } from '#libs/process';
import type { Notebook } from './oracle-checks.js';

export interface OracleVerdict {
  creditedMinutes: number;
  turns: number;
  metAtMs: number | null;
}

/** When counting starts, or what a batch made only of batches that had met the rule inherits. */
export interface ClockStart {
  readonly zeroMs: number | null;
  readonly inheritedMs: number | null;
}

/** The last raw material, a merged batch that had not met the rule among it. */
export function clockStart({ rawAdditions, mergedFrom = [] }: Notebook, nowMs: number): ClockStart {
  const merged = mergedFrom.filter(({ occurredAtMs }) => occurredAtMs <= nowMs);
  const proven = merged.filter(({ metAtMs, occurredAtMs }) => metAtMs !== null && metAtMs <= occurredAtMs);
  const raw = [...rawAdditions, ...merged.filter((batch) => !proven.includes(batch))]
    .map(({ occurredAtMs }) => occurredAtMs)
    .filter((atMs) => atMs <= nowMs);
  if (raw.length > 0) return { zeroMs: Math.max(...raw), inheritedMs: null };
  const verdicts = proven.map(({ metAtMs }) => metAtMs ?? NaN);
  return { zeroMs: null, inheritedMs: verdicts.length > 0 ? Math.max(...verdicts) : null };
}

/** Whether the mix was built as the rule asks; what is not known is not shown. */
export function asMixed(
  { carbonToNitrogen: asked }: ProcessRule,
  { carbonToNitrogen: built }: Notebook,
): boolean {
  if (asked === null) return true;
  return built !== undefined && built !== null && built >= asked.least && built <= asked.most;
}
