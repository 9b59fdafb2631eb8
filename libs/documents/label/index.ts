export * from './code.js';
export * from './label.js';
export * from './pdf.js';
export * from './use.js';
