import { ccqcIndex } from './ccqc-index.js';
import { findingsOf, type SampleFinding } from './findings.js';
import { herbicideBioassay } from './herbicide.js';
import type { SampleResult } from './results.js';

/**
 * What the published tables say of a sample: each figure under every table of its parameter, then what rests on several
 * figures together. Pure and total; a figure that cannot be read (see {@link faultOf}) has no finding. A class informs:
 * it opens or closes no gate.
 */
export function assessSample(results: readonly SampleResult[]): SampleFinding[] {
  const joint = [ccqcIndex(results), herbicideBioassay(results)];
  return [...results.flatMap(findingsOf), ...joint.filter((finding) => finding !== null)];
}
