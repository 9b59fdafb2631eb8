import { sumG } from '#libs/quantities';
import { estimatedG, type FlowBasis, shareOf } from './basis.js';

export const inputKinds = ['drop-off', 'amendment', 'overs-in', 'merged-in'] as const;
export type InputKind = (typeof inputKinds)[number];
export const outputKinds = ['compost', 'overs', 'residue', 'sample', 'merged-on'] as const;
export type OutputKind = (typeof outputKinds)[number];

/** What went into a batch, in whole grams. A drop-off counts with what was accepted and assigned here. */
export interface BatchInput {
  readonly kind: InputKind;
  readonly label: string;
  readonly massG: number;
  readonly basis: FlowBasis;
}

/** What came out of a batch, in whole grams. */
export interface BatchOutput {
  readonly kind: OutputKind;
  readonly label: string;
  readonly massG: number;
}

export interface BatchFlows {
  readonly inputs: readonly BatchInput[];
  readonly outputs: readonly BatchOutput[];
  /** What still lies there; null while nobody has weighed or estimated it, 0 once the place is empty. */
  readonly stillHereG: number | null;
}

export interface BalanceTotals {
  readonly inputG: number;
  readonly outputG: number;
  readonly stillHereG: number | null;
}

export interface BalancedBatch extends BalanceTotals {
  readonly ok: true;
  /** Water and carbon lost to the air and any unseen loss: input − output − still here. Null while still here is unknown. */
  readonly processLossG: number | null;
  readonly weighedG: number;
  readonly estimatedG: number;
  /** Shares of the input, 0 to 1; null when nothing went in. */
  readonly weighedShare: number | null;
  readonly estimatedShare: number | null;
  /**
   * Compost taken out so far per mass put in, both as wet mass. Null when nothing went in, and before any compost came out
   * of what may still lie there: a batch that grows has not yielded nothing.
   */
  readonly yieldByMass: number | null;
}

/** More is out, or still here, than went in. Something is missing or mistyped: an error to resolve, not a loss to print. */
export interface ImpossibleBatch extends BalanceTotals {
  readonly ok: false;
  readonly excessG: number;
}

export type Balance = BalancedBatch | ImpossibleBatch;

/**
 * The conservation of docs/design.md §4: drop-offs + amendments + overs in + merged in = compost + overs + residue + samples + merged on + still
 * here + process loss. All in whole grams, exactly. Throws RangeError when a mass is not a whole number of zero or more.
 */
export function balanceOf({ inputs, outputs, stillHereG }: BatchFlows): Balance {
  const inputG = massOf(inputs);
  const outputG = massOf(outputs);
  const totals = { inputG, outputG, stillHereG };
  const accountedG = sumG([outputG, stillHereG ?? 0]);
  if (accountedG > inputG) return { ok: false, ...totals, excessG: accountedG - inputG };
  const estimated = estimatedG(inputs);
  const compostG = massOf(outputs.filter(({ kind }) => kind === 'compost'));
  return {
    ok: true,
    ...totals,
    processLossG: stillHereG === null ? null : inputG - accountedG,
    weighedG: inputG - estimated,
    estimatedG: estimated,
    weighedShare: shareOf(inputG - estimated, inputG),
    estimatedShare: shareOf(estimated, inputG),
    yieldByMass: compostG === 0 && stillHereG !== 0 ? null : shareOf(compostG, inputG),
  };
}

function massOf(flows: readonly { readonly massG: number }[]): number {
  return sumG(flows.map(({ massG }) => massG));
}
