import { type FindingState, type SampleFinding, sentences } from './findings.js';
import { type SampleResult, sayResult } from './results.js';

const source = 'Washington State University Extension, Whatcom County, bioassay for aminopyralid';
const caution =
  'Cupped or twisted leaves show that a herbicide of the auxin type is there, not which one; a test of peas or beans for two to three weeks beside a control.';

/** Persistent herbicides by the leaves of peas or beans, against plants in a mix without compost. */
export function herbicideBioassay(results: readonly SampleResult[]): SampleFinding | null {
  const plants = results.find(({ parameter }) => parameter === 'cupped-plants');
  if (!plants) return null;
  const control = results.find(({ parameter }) => parameter === 'cupped-plants-control');
  const { state, says } = compared(plants, control);
  const beside = control ? `, ${sayResult(control)} in the control` : ', no control recorded';
  return {
    ...{ parameter: 'herbicide-bioassay', value: null, unit: null, qualifier: null },
    ...{ table: 'wsu-bioassay', scale: 'Bioassay for persistent herbicides', class: null },
    ...{ limit: 'no more than in the control', state, source, textStatus: 'verified' },
    text: sentences(
      `Cupped or twisted: ${sayResult(plants)} in the compost${beside}. ${says} (${source}).`,
      caution,
    ),
  };
}

function compared(
  plants: SampleResult,
  control: SampleResult | undefined,
): { state: FindingState; says: string } {
  if (!control) return { state: 'unknown', says: 'Without a control it shows nothing' };
  if (plants.qualifier !== null || control.qualifier !== null) {
    return { state: 'unknown', says: 'A bound cannot be compared with the control' };
  }
  if (plants.value > control.value)
    return { state: 'unmet', says: 'More than the control: residue is to be expected' };
  return control.value > 0
    ? { state: 'unknown', says: 'The control is cupped as well, so the test is to be made again' }
    : { state: 'met', says: 'No more than the control' };
}
