import type { Amends, DiversionReport } from '#libs/documents';

type Told = Pick<DiversionReport, 'figures' | 'facilities'>;

/** Totals that are other in one report than in another, by name; what one of them has not is nothing there. */
export function otherTotals(before: Told, after: Told): Amends['totals'] {
  const [first, second] = [totalsOf(before), totalsOf(after)];
  return [...new Set([...second.keys(), ...first.keys()])].flatMap((figure) => {
    const beforeKg = first.get(figure) ?? 0;
    const afterKg = second.get(figure) ?? 0;
    return beforeKg === afterKg ? [] : [{ figure, beforeKg, afterKg }];
  });
}

function totalsOf({ figures, facilities }: Told): Map<string, number> {
  const { total, refused, stockAtStart, stockAtEnd } = figures;
  return new Map([
    ...massesIn('', total),
    ...massesIn('refused', refused),
    ...massesIn('in stock at the start', stockAtStart),
    ...massesIn('in stock at the end', stockAtEnd),
    ...facilities.flatMap((facility) => massesIn(facility.code, facility)),
  ]);
}

/** Every mass in a part of the report, under the words that lead to it: "MB: distributed: school, vegetable-beds". */
function massesIn(at: string, part: object): [string, number][] {
  return Object.entries(part).flatMap(([name, value]: [string, unknown]): [string, number][] => {
    if (typeof value === 'number') return name.endsWith('Kg') ? [[under(at, name), value]] : [];
    if (Array.isArray(value)) {
      return value.flatMap((line: object) => massesIn(under(under(at, name), wordsOf(line)), line));
    }
    return typeof value === 'object' && value !== null ? massesIn(under(at, name), value) : [];
  });
}

/** In the order of their names: a report that was sealed has them so, and one that was not yet as they were written down. */
const wordsOf = (line: object) =>
  Object.entries(line)
    .filter((entry): entry is [string, string] => typeof entry[1] === 'string')
    .toSorted(([a], [b]) => (a < b ? -1 : 1))
    .map(([, word]) => word)
    .join(', ');

/** "acceptedKg" is read as "accepted", "massKg" of something as that. */
function under(at: string, name: string): string {
  const word = name.replace(/Kg$/, '').replaceAll(/[A-Z]/g, (letter) => ` ${letter.toLowerCase()}`);
  if (word === 'mass' && at !== '') return at;
  return at === '' ? word : `${at}: ${word}`;
}
