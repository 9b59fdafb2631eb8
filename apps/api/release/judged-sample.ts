import { assessSample, contradictionsOf, type RuleMicrobes, type SampleFinding } from '#libs/process';
import type { SampleRow } from './samples.records.js';

/** A sample with what is published of its figures, and where they contradict the manager's outcome. */
export interface JudgedSample extends SampleRow {
  findings: SampleFinding[];
  warnings: string[];
}

export function judgedSample(row: SampleRow, microbes: readonly RuleMicrobes[]): JudgedSample {
  return {
    ...row,
    findings: assessSample(row.results),
    warnings: contradictionsOf(row.outcome, row.results, microbes),
  };
}
