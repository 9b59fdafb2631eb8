import { Problem } from '../http/problems/catalogue.js';

/** Hands a refusal on as a value: among many entries it is the outcome of one, not the end of all. */
export function refusal(error: unknown): Problem {
  if (error instanceof Problem) return error;
  throw error;
}

export function outcome<T>(work: () => T): T | Problem {
  try {
    return work();
  } catch (error) {
    return refusal(error);
  }
}

/** What there must be by now; throws where it was refused. */
export function required<T>(judged: T | Problem | undefined): T {
  if (judged === undefined) throw new Error('an entry without an outcome');
  if (isRefused(judged)) throw judged;
  return judged;
}

export const isRefused = (judged: unknown): judged is Problem => judged instanceof Problem;
