import { type MixPart } from '../mix/figures.js';
import { mixOf } from '../mix/mix.js';
import { isContradictory } from '../mix/standing.js';
import type { MixTarget } from '../mix/targets.js';
import type { AdditionsQuestion } from './question.js';

/** Nothing is in this range: its least lies above its most, or all of it outside what the figure can be. */
export function leavesNothing(target: MixTarget): boolean {
  const { figure, min, max } = target;
  const isPercent = figure === 'moisturePercent' || figure === 'freeAirSpacePercent';
  return isContradictory(target) || (max !== null && max < 0) || (isPercent && min !== null && min > 100);
}

/** Throws RangeError on what no batch, yard or purse can hold. */
export function requireSound({ parts, candidates, targets, obtainable }: AdditionsQuestion): void {
  const none = [...candidates.map(({ material }) => material), ...obtainable].map((material): MixPart => ({
    material,
    massG: 0,
    estimatedG: 0,
    estimatedMl: 0,
  }));
  // It is the mix that knows which figures cannot be.
  mixOf([...parts, ...none]);
  requireOneEach(
    'candidate',
    candidates.map(({ material }) => material.code),
  );
  requireOneEach(
    'obtainable material',
    obtainable.map(({ code }) => code),
  );
  requireOneEach(
    'target',
    targets.map(({ figure }) => figure),
  );
  for (const { figure, min, max } of targets) {
    if (![min, max].every((end) => end === null || Number.isFinite(end)))
      throw new RangeError(`a target of ${figure} cannot be ${min} to ${max}`);
  }
  for (const { material, availableG, costPerKg, measure } of candidates) {
    const atLeastZero = [availableG, costPerKg].every(
      (value) => value === null || (value >= 0 && Number.isFinite(value)),
    );
    if (!atLeastZero)
      throw new RangeError(`${availableG} g of ${material.code} at ${costPerKg} a kilogram cannot be`);
    if (measure !== null && !(measure.volumeMl > 0 && Number.isFinite(measure.volumeMl)))
      throw new RangeError(`${measure.code} cannot hold ${measure.volumeMl} mL`);
  }
}

function requireOneEach(what: string, codes: readonly string[]): void {
  const twice = codes.find((code, index) => codes.indexOf(code) !== index);
  if (twice !== undefined) throw new RangeError(`${twice} is a ${what} twice`);
}
