export { additionsFor } from './answer.js';
export { handOut, type HandedOut, type Wanting } from './hand-out.js';
export { withHighs } from './highs.js';
export type { LinearOutcome, LinearProblem, Solve } from './linear.js';
export { volumeMlOf } from './measured.js';
export * from './question.js';
export { usualFirst } from './usual.js';
