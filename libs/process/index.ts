export { evaluateCure, type CureEvidence, type CureFacts, type CureVerdict } from './cure.js';
export { evaluateProcess } from './evaluate.js';
export type { BatchFacts, Check, MergedBatch, ProbeReading, RawAddition, Turn } from './facts.js';
export * from './gate-facts.js';
export { gatesOf } from './gates.js';
export { holdingHours } from './heat.js';
export * from './rule.js';
export { processRule, processRules, rulesFor } from './rules/index.js';
export * from './verdict.js';
