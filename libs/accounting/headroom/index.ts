export * from './mass.js';
export * from './volume.js';
export * from './warnings.js';
