import type { Figure, MaterialClass, MaterialFigure, MaterialKind, MaterialTrait } from '#libs/materials';

/** A material as the programme states it. */
export interface MaterialRow {
  code: string;
  name: string;
  class: MaterialClass;
  kind: MaterialKind;
  traits: MaterialTrait[];
  caution: string | null;
  figures: Partial<Record<MaterialFigure, Omit<Figure, 'measuredOn'>>>;
}
