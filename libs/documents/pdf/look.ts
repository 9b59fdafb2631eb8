import { createRequire } from 'node:module';

/** Points. */
export interface PageSize {
  width: number;
  height: number;
  left: number;
  right: number;
  top: number;
  bottom: number;
}

/** Points. A4's width and US Letter's height, so that either paper takes the page unscaled. */
export const PAGE = { width: 595.28, height: 792, left: 54, right: 54, top: 62, bottom: 64 } as const;
export const CONTENT_WIDTH = PAGE.width - PAGE.left - PAGE.right;

/** Black and greys, and one accent: the blue-black of a carbon copy. Nothing is told by colour alone. */
export const INK = {
  black: '#1c1c1c',
  grey: '#595959',
  rule: '#8a8a8a',
  hair: '#d4d4d4',
  hatch: '#dedede',
  accent: '#24406e',
} as const;

export type Face = 'regular' | 'strong';

/** `leading` is the distance from line to line. */
export interface Style {
  face: Face;
  size: number;
  leading: number;
  colour: string;
}

export const STYLE = {
  title: { face: 'strong', size: 25, leading: 32, colour: INK.black },
  heading: { face: 'strong', size: 12.5, leading: 17, colour: INK.accent },
  subheading: { face: 'strong', size: 9, leading: 13, colour: INK.black },
  lead: { face: 'strong', size: 10.5, leading: 15, colour: INK.black },
  body: { face: 'regular', size: 9, leading: 13.2, colour: INK.black },
  strong: { face: 'strong', size: 9, leading: 13.2, colour: INK.black },
  cell: { face: 'regular', size: 8.5, leading: 11.6, colour: INK.black },
  cellStrong: { face: 'strong', size: 8.5, leading: 11.6, colour: INK.black },
  label: { face: 'regular', size: 8.5, leading: 11.6, colour: INK.grey },
  big: { face: 'strong', size: 12, leading: 16, colour: INK.black },
  dense: { face: 'regular', size: 7.8, leading: 9.8, colour: INK.black },
  note: { face: 'regular', size: 8, leading: 10.8, colour: INK.grey },
  foot: { face: 'regular', size: 6.8, leading: 9, colour: INK.grey },
} as const satisfies Record<string, Style>;

const resolve = createRequire(import.meta.url).resolve;

/**
 * Noto Sans (SIL Open Font License 1.1). Paths and not bytes, because pdfkit parses a font given as bytes again
 * each time it is selected.
 */
export const FONT_FILES: Record<Face, string> = {
  regular: resolve('@expo-google-fonts/noto-sans/400Regular/NotoSans_400Regular.ttf'),
  strong: resolve('@expo-google-fonts/noto-sans/600SemiBold/NotoSans_600SemiBold.ttf'),
};
