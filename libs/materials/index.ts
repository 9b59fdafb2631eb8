export * from './figures.js';
export * from './mix.js';
export * from './starting-list/index.js';
export * from './targets.js';
