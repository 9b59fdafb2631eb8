export { assessSample } from './assess.js';
export { findingStates, type FindingState, type SampleFinding } from './findings.js';
export {
  contradictionsOf,
  microbesOf,
  microbeStanding,
  type MicrobeStanding,
  type RuleMicrobes,
} from './microbes.js';
export {
  microbeUnits,
  type Parameter,
  type ParameterKey,
  parameterKeys,
  parameterOf,
  parameters,
} from './parameters.js';
export {
  faultOf,
  type Qualifier,
  qualifiers,
  type ResultFault,
  type SampleResult,
  sayResult,
} from './results.js';
export type { Band, Bound, ClassTable, LimitTable, Table } from './table.js';
export { maturityTables } from './tables/index.js';
