export { carbonPercentFromAsh } from './carbon.js';
export * from './figures.js';
export * from './measuring.js';
export * from './mix.js';
export * from './standing.js';
export * from './targets.js';
export { termOf } from './terms.js';
