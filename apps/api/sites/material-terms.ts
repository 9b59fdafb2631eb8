import {
  type Contradiction,
  contradictionsIn,
  eachFigure,
  type FigureValue,
  type MaterialFigure,
  materialFigures,
  type MaterialKind,
} from '#libs/materials';
import { Problem } from '../http/problems/catalogue.js';
import type { EnteredFiguresDto } from './material-figures.dto.js';
import type { FigureChanges } from './materials.records.js';

/** The figures that a request names, as they are kept: whoever states one vouches for it, whatever was checked before. */
export function figureChangesOf(dto: EnteredFiguresDto): FigureChanges {
  const changes: FigureChanges = {};
  for (const figure of materialFigures) {
    const entered = dto[figure];
    if (entered === null) changes[figure] = null;
    if (!entered) continue;
    const { typical, min = null, max = null, source } = entered;
    changes[figure] = { typical, min, max, source, verification: 'local' };
  }
  return changes;
}

/** Refuses (422) figures that cannot be together, each at one that the request names where it names one of them. */
export function requirePossible(
  kind: MaterialKind,
  before: Partial<Record<MaterialFigure, FigureValue | null>>,
  changes: Partial<Record<MaterialFigure, FigureValue | null>>,
): void {
  const figures = eachFigure((figure) =>
    changes[figure] === undefined ? (before[figure] ?? null) : changes[figure],
  );
  const named = (figure: MaterialFigure) => changes[figure] !== undefined && changes[figure] !== null;
  const faults = contradictionsIn(kind, figures).map((contradiction) => ({
    pointer: pointerOf(contradiction, named),
    detail: contradiction.detail,
  }));
  if (faults.length > 0) throw new Problem('invalid', faults[0]?.detail, faults);
}

function pointerOf({ figures, part }: Contradiction, named: (figure: MaterialFigure) => boolean): string {
  const figure = figures.find(named) ?? figures[0];
  return `/${figure}/${part}`;
}
