import type {
  Figure,
  MaterialClass,
  MaterialFigure,
  MaterialKind,
  MaterialTrait,
  Reading,
} from '#libs/materials';

/** A material as the programme states it. */
export interface MaterialRow {
  code: string;
  name: string;
  class: MaterialClass;
  kind: MaterialKind;
  traits: MaterialTrait[];
  caution: string | null;
  figures: Partial<Record<MaterialFigure, Omit<Figure, 'measuredOn'>>>;
  /** The latest of each figure that the site measured itself; null where it measured none. */
  readings: (Omit<Reading, 'source'> & { by: string; reference: string | null })[] | null;
}

/** Whose batches the figures are for, and as of when. */
export interface FiguresAt {
  siteId: string;
  /** Samples of later are not looked at. */
  atMs: number;
}
