export * from './difference.js';
export * from './share.js';
