import type { MaterialFigure } from '#libs/materials';

/** Figures as a request carries them, all of one source. */
export function figuresFrom(source: string, typical: Partial<Record<MaterialFigure, number>>) {
  return Object.fromEntries(
    Object.entries(typical).map(([figure, value]) => [figure, { typical: value, source }]),
  );
}
