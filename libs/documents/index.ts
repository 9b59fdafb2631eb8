export * from './batch-record/cautions.js';
export * from './batch-record/pdf.js';
export * from './batch-record/record.js';
export * from './batch-record/schema.js';
export * from './canonical.js';
export * from './chart/chart.js';
export * from './csv.js';
