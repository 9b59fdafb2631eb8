import type { Gate } from './gate-facts.js';

/** What a gate came to. */
export type Finding = Pick<Gate, 'state' | 'text'>;

export const noPermit = (unknown: string): Finding => ({
  state: 'unknown',
  text: `No permit is recorded for this site, so ${unknown} is not known.`,
});
