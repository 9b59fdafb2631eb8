export * from './balance.js';
export {
  type BasedMass,
  entryBases,
  type EntryBasis,
  estimatedShare,
  type FlowBasis,
  massBases,
  type MassBasis,
} from './basis.js';
export * from './diversion/index.js';
export * from './greenhouse/index.js';
export * from './haul/index.js';
export * from './headroom/index.js';
export * from './rates/index.js';
export * from './reporting-year.js';
export * from './trace/index.js';
