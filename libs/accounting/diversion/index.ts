export * from './attribution.js';
export * from './diverted.js';
export * from './figures-of.js';
export * from './figures.js';
export * from './sums.js';
