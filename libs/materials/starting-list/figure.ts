import {
  type Figure,
  materialFigures,
  type MaterialFigure,
  type MaterialFigures,
  type MaterialKind,
  type Verification,
} from '../figures.js';

/** A figure of which the source gives no range. */
export function point(typical: number, source: string, verification: Verification): Figure {
  return ranged(typical, null, null, source, verification);
}

/** A figure with the range that the source gives; null at an end that it does not give. */
export function ranged(
  typical: number,
  min: number | null,
  max: number | null,
  source: string,
  verification: Verification,
): Figure {
  return { typical, min, max, source, verification, measuredOn: null };
}

/** A figure of which the source gives the range alone; the middle stands for what is typical, and the source says so. */
export function midpoint(min: number, max: number, source: string, verification: Verification): Figure {
  return ranged(rounded((min + max) / 2, 4), min, max, `${source}; midpoint of ${min}–${max}`, verification);
}

/** Rows of one publication, all read alike. */
export function table(name: string, verification: Verification) {
  const cite = (row: string) => `${name}, ${row}`;
  return {
    point: (typical: number, row: string) => point(typical, cite(row), verification),
    ranged: (typical: number, min: number | null, max: number | null, row: string) =>
      ranged(typical, min, max, cite(row), verification),
    midpoint: (min: number, max: number, row: string) => midpoint(min, max, cite(row), verification),
  };
}

type Named = Pick<MaterialFigures, 'code' | 'name' | 'class'>;
type Terms = Partial<Pick<MaterialFigures, 'traits' | 'caution'> & Record<MaterialFigure, Figure>>;

const unknown = Object.fromEntries(materialFigures.map((figure) => [figure, null])) as Record<
  MaterialFigure,
  null
>;

/** An organic material; what is not said of it is unknown. */
export function organic(row: Named & Terms): MaterialFigures {
  return ofKind('organic', row);
}

export function ofKind(kind: MaterialKind, row: Named & Terms): MaterialFigures {
  return { ...unknown, kind, traits: [], caution: null, ...row };
}

export function rounded(value: number, digits: number): number {
  return Number(value.toFixed(digits));
}
