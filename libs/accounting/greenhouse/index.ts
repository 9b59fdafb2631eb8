export * from './estimate.js';
export { estimateGreenhouse, type GreenhouseInput } from './estimating.js';
export { type CategoryFactors, type GreenhouseSet } from './set.js';
export { type GreenhouseSetCode, greenhouseSetCodes, greenhouseSets } from './sets.js';
export { wasteCategoryNames } from './words.js';
