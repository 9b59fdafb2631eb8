export * from './composition.js';
export * from './flow.js';
export * from './forward.js';
export * from './texts.js';
