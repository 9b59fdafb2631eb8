import type { Decimal } from 'decimal.js';
import type { Qualifier } from './results.js';
import type { Band, Bound } from './table.js';

/** The class a figure falls into; null where it is a bound ("<5") that leaves more than one open. */
export function bandOf(bands: readonly Band[], figure: Decimal, qualifier: Qualifier | null): Band | null {
  const at = bandAt(bands, figure, qualifier === '<');
  if (qualifier === null) return at;
  const lowest = qualifier === '<' ? bands[0] : bandAt(bands, figure, false, true);
  const highest = qualifier === '<' ? at : bands.at(-1);
  return lowest !== undefined && lowest === highest ? lowest : null;
}

/** The class of the figure itself, or of what lies just below or just above it. */
function bandAt(bands: readonly Band[], figure: Decimal, below: boolean, above = false): Band | null {
  const found = bands.find(({ to, withEdge }) => {
    if (!figure.equals(to)) return figure.lessThan(to);
    return below || (withEdge && !above);
  });
  return found ?? null;
}

/** Whether a figure keeps to a limit; null where it is a bound that leaves it open. */
export function keepsTo({ is, value }: Bound, figure: Decimal, qualifier: Qualifier | null): boolean | null {
  const edge = figure.comparedTo(value);
  if (is === 'at most' || is === 'below') {
    if (qualifier === '<') return edge <= 0 ? true : null;
    if (qualifier === '>') return edge >= 0 ? false : null;
    return is === 'at most' ? edge <= 0 : edge < 0;
  }
  if (qualifier === '>') return edge >= 0 ? true : null;
  if (qualifier === '<') return edge <= 0 ? false : null;
  return is === 'at least' ? edge >= 0 : edge > 0;
}
