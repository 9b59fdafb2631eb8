import type { DiversionReport, OtherFigure } from '#libs/documents';

/** What of a report is held against the version before; the parts by month, material and site follow from its lines. */
type Held = Pick<
  DiversionReport,
  'printed' | 'estimatedShare' | 'figures' | 'rate' | 'greenhouse' | 'facilities' | 'jurisdiction'
>;
type Value = string | number;
type Named = [figure: string, value: Value | null, unit: string];

/** Members that end in a unit, and what the unit is called. */
const UNITS = { Kg: 'kg', L: 'L', TCo2e: 't CO2e' } as const;
const IN_UNIT = /^(.+?)(Kg|L|TCo2e)$/;

/** What the lines of a list are told apart by, in the order in which it is said. */
const NAMING = [
  ...['name', 'depositor', 'jurisdiction', 'stage', 'batch', 'reference', 'on', 'kind', 'use', 'recipient'],
  'wentTo',
];
/** Told apart by it or not, a material is named by its name, and its code is no figure. */
const NO_FIGURE = [...NAMING, 'material'];

/**
 * Every total, count, rate, estimate and setting that is other in one report than in another, by name. What one of them has
 * not is null there; that is no difference from nothing.
 */
export function otherTotals(before: Held, after: Held): OtherFigure[] {
  const [first, second] = [figuresOf(before), figuresOf(after)];
  return [...new Map([...second, ...first])].flatMap(([figure, { unit }]) => {
    const [was, is] = [first.get(figure)?.value ?? null, second.get(figure)?.value ?? null];
    const same =
      was === is || ((was ?? 0) === 0 && (is ?? 0) === 0 && !(first.has(figure) && second.has(figure)));
    return same ? [] : [{ figure, before: was, after: is, unit }];
  });
}

function figuresOf(report: Held): Map<string, { value: Value | null; unit: string }> {
  const { printed, estimatedShare, figures, facilities, jurisdiction } = report;
  const { total, refused, pulled, residue, byDepositor, visits, stockAtStart, stockAtEnd, residueTo } =
    figures;
  const named: Named[] = [
    ['accepted, as printed', printed.acceptedShortTons, 'short ton'],
    ['accepted, as printed in tonnes', printed.acceptedTonnes, 't'],
    ['diverted, as printed', printed.divertedShortTons, 'short ton'],
    ['diverted, as printed in tonnes', printed.divertedTonnes, 't'],
    ['estimated share', estimatedShare === null ? null : Math.round(estimatedShare * 1000) / 10, '%'],
    ...rateFigures(report),
    ...greenhouseFigures(report),
    ['residue is booked by', residueTo, ''],
    ...leaves('', total),
    ['visits', visits, ''],
    ...leaves('', { byDepositor, refused, pulled, residue }),
    ...leaves('in stock at the start', { ...stockAtStart, on: null }),
    ...leaves('in stock at the end', { ...stockAtEnd, on: null }),
    ...facilities.flatMap(({ code, ...facility }) => leaves(code, facility)),
    ['jurisdiction', jurisdiction.name, ''],
    ['reporting year begins', jurisdiction.reportingYearStart, ''],
  ];
  return new Map(named.map(([figure, value, unit]) => [figure, { value, unit }]));
}

function rateFigures({ rate }: Held): Named[] {
  if (!rate) return [];
  return [
    ['rate', rate.percent, '%'],
    ['rate: formula', `${rate.formula}: ${rate.expression}`, ''],
    ...rate.terms.flatMap(({ name, massKg, from }): Named[] => [
      [`rate: ${name}`, massKg, 'kg'],
      [`rate: ${name}: from`, from, ''],
    ]),
  ];
}

function greenhouseFigures({ greenhouse }: Held): Named[] {
  if (!greenhouse) return [];
  const { set, total, unknownKg } = greenhouse;
  return [['greenhouse: set', set, ''], ...leaves('greenhouse', { ...total, unknownKg })];
}

/** Every figure and word in a part of the report, under the words that lead to it: "MB: distributed: school, vegetable-beds". */
function leaves(at: string, part: object): Named[] {
  return Object.entries(part).flatMap(([name, value]: [string, unknown]): Named[] => {
    if (typeof value === 'number' || typeof value === 'string' || value === null) {
      const [, figure = name, unit] = IN_UNIT.exec(name) ?? [];
      return [[under(at, wordsOf(figure)), value, unit ? UNITS[unit as keyof typeof UNITS] : '']];
    }
    const inside = under(at, wordsOf(name));
    if (Array.isArray(value)) return listed(inside, value as unknown[]);
    return typeof value === 'object' ? leaves(inside, value) : [];
  });
}

/** Lines by what they are told apart by; a second of the same words by its number. */
function listed(at: string, lines: readonly unknown[]): Named[] {
  if (typeof lines[0] === 'string') return [[at, lines.join('; '), '']];
  const times = new Map<string, number>();
  return lines.flatMap((line): Named[] => {
    const entries = Object.entries(line as Record<string, unknown>);
    const words = NAMING.flatMap((name) => entries.filter(([member]) => member === name))
      .map(([, word]) => String(word))
      .join(', ');
    const time = (times.get(words) ?? 0) + 1;
    times.set(words, time);
    const rest = Object.fromEntries(entries.filter(([member]) => !NO_FIGURE.includes(member)));
    return leaves(under(at, time === 1 ? words : `${words} (${time})`), rest);
  });
}

/** The mass of something is named as that. */
const under = (at: string, name: string): string =>
  at === '' ? name : name === 'mass' ? at : `${at}: ${name}`;

/** "byDepositor" is read as "by depositor". */
const wordsOf = (member: string): string =>
  member === 'lots'
    ? 'drop-offs'
    : member.replaceAll(/(?<=[a-z])[A-Z]/g, (letter) => ` ${letter.toLowerCase()}`);
