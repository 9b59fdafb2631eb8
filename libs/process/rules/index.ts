import type { BatchMethod, ProcessRule } from '../rule.js';
import { us503InVessel, us503StaticAerated, us503Windrow } from './us-503.js';

/** Every rule of the library. */
export const processRules: readonly ProcessRule[] = [us503Windrow, us503StaticAerated, us503InVessel];

const byCode = new Map(processRules.map((rule) => [rule.code, rule]));

export function processRule(code: string): ProcessRule | undefined {
  return byCode.get(code);
}

/** The rules that are for a method. */
export function rulesFor(method: BatchMethod): ProcessRule[] {
  return processRules.filter((rule) => rule.methods.includes(method));
}
