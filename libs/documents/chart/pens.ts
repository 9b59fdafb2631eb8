/** A mark around 0, 0 as SVG path data. `filled` with ink; `hollow`: ink around paper; `open`: strokes only. */
export interface Mark {
  path: string;
  look: 'filled' | 'hollow' | 'open';
}

/** How a line is told from the others without colour: by its dash and by the marks on it. */
export interface Pen {
  /** Lengths of ink and gap in turn; null for an unbroken line. */
  dash: readonly number[] | null;
  mark: Mark;
}

const ROUND = 'M-1.9 0A1.9 1.9 0 1 1 1.9 0A1.9 1.9 0 1 1 -1.9 0Z';

const PENS = [
  { dash: null, mark: { path: ROUND, look: 'filled' } },
  { dash: [5, 2.2], mark: { path: 'M-1.9 -1.9H1.9V1.9H-1.9Z', look: 'filled' } },
  { dash: [1.2, 1.8], mark: { path: ROUND, look: 'hollow' } },
  { dash: [6, 1.8, 1.2, 1.8], mark: { path: 'M-2.5 0L0 -2.5L2.5 0L0 2.5Z', look: 'filled' } },
  { dash: [2.6, 1.4], mark: { path: 'M-1.9 -1.9L1.9 1.9M-1.9 1.9L1.9 -1.9', look: 'open' } },
  { dash: [9, 2], mark: { path: 'M-1.9 1.9L0 -1.9L1.9 1.9Z', look: 'hollow' } },
] as const satisfies readonly Pen[];

/** The pen of the line at `index`. Past the number of dashes the marks shift by one, so that 36 lines all differ. */
export function penOf(index: number): Pen {
  const { dash } = PENS[index % PENS.length] ?? PENS[0];
  const { mark } = PENS[(index + Math.floor(index / PENS.length)) % PENS.length] ?? PENS[0];
  return { dash, mark };
}
