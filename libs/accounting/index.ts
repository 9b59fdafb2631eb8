export * from './balance.js';
export { type BasedMass, estimatedShare, massBases, type MassBasis } from './basis.js';
export * from './diversion.js';
export * from './reporting-year.js';
