export * from './facts.js';
export { readinessOf } from './readiness.js';
