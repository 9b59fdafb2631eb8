import { assessSample, type SampleFinding, type SampleResult } from '#libs/process';

/** A figure as a laboratory gives it. */
export const result = (
  parameter: string,
  value: number,
  unit: string,
  qualifier: SampleResult['qualifier'] = null,
): SampleResult => ({ parameter, value, unit, qualifier, laboratoryWord: null });

/** What one table says of one figure. */
export function under(table: string, one: SampleResult): SampleFinding {
  const found = assessSample([one]).find((finding) => finding.table === table);
  if (!found) throw new Error(`${table} says nothing of ${one.parameter}`);
  return found;
}

/** The last figure that keeps to a limit and the first that does not. */
export interface Edge {
  readonly table: string;
  readonly parameter: string;
  readonly unit: string;
  readonly met: number;
  readonly unmet: number;
}
