export * from './figures.js';
export * from './mix.js';
export * from './targets.js';
