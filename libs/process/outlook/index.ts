export * from './facts.js';
export { outlookOf } from './outlook.js';
