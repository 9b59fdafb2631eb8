export * from './diverted.js';
export * from './figures.js';
