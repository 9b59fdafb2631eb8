export * from './length.js';
export * from './mass.js';
export * from './split.js';
export * from './temperature.js';
export * from './volume.js';
