import type { Figure } from '../figures.js';

/** What is typical, and between what it lies. */
export interface Span {
  readonly typical: number;
  readonly min: number;
  readonly max: number;
}

/** An end that no source gives is taken as typical; `withoutRange` of a mix names such figures. */
export function spanOf({ typical, min, max }: Figure): Span {
  return { typical, min: min ?? typical, max: max ?? typical };
}

export function isOpen(figure: Figure | null): boolean {
  return figure === null || figure.min === null || figure.max === null;
}
