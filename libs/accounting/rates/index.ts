export * from './formulas.js';
export * from './rate.js';
