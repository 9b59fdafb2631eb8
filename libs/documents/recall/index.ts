export * from './cautions.js';
export * from './csv.js';
export * from './pdf.js';
export * from './recall.js';
export * from './words.js';
