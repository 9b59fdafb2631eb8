export * from './estimate.js';
