import type { Figure, MaterialFigure, MaterialKind } from './figures.js';

export type FigureValue = Pick<Figure, 'typical' | 'min' | 'max'>;
export type FigureValues = Readonly<Record<MaterialFigure, FigureValue | null>>;

/** Something that figures cannot be together. The first figure named is the one to look at first. */
export interface Contradiction {
  readonly figures: readonly [MaterialFigure, ...MaterialFigure[]];
  readonly part: 'typical' | 'min' | 'max';
  /** Ends the sentence that the figure begins: "must be …". */
  readonly detail: string;
}

/**
 * By how much C:N may differ from C over N where all three are given, as a share of it: published figures are rounded, and
 * carbon that was estimated from ash is within 2 to 10 % (Gotaas 1956, as told by Polprasert, Organic Waste Recycling).
 */
const RATIO_TOLERANCE = 0.1;

const ofDryMatter = ['nitrogenPercentDry', 'carbonPercentDry', 'carbonToNitrogen', 'ashPercentDry'] as const;
const ofTheBalance = ['nitrogenPercentDry', 'carbonPercentDry', 'carbonToNitrogen'] as const;
const percentages = ['nitrogenPercentDry', 'carbonPercentDry', 'ashPercentDry', 'moisturePercent'] as const;
const aboveZero = ['carbonToNitrogen', 'bulkDensityKgM3'] as const;

/** Everything that cannot be in the figures of one material; empty where they can stand together. */
export function contradictionsIn(kind: MaterialKind, figures: FigureValues): Contradiction[] {
  return [
    ...outOfBounds(figures),
    ...outOfOrder(figures),
    ...againstKind(kind, figures),
    ...beyondDryMatter(figures),
    ...againstRatio(figures),
  ];
}

function outOfBounds(figures: FigureValues): Contradiction[] {
  const share = percentages.flatMap((figure) =>
    ends(figures, figure).flatMap(([part, value]) =>
      value >= 0 && value <= 100 ? [] : [told([figure], part, 'must be from 0 to 100')],
    ),
  );
  const ratio = aboveZero.flatMap((figure) =>
    ends(figures, figure).flatMap(([part, value]) =>
      value > 0 && Number.isFinite(value) ? [] : [told([figure], part, 'must be more than 0')],
    ),
  );
  return [...share, ...ratio];
}

function outOfOrder(figures: FigureValues): Contradiction[] {
  return [...percentages, ...aboveZero].flatMap((figure) => {
    const { typical = 0, min = null, max = null } = figures[figure] ?? {};
    return [
      ...(min !== null && min > typical ? [told([figure], 'min', 'must not be above what is typical')] : []),
      ...(max !== null && max < typical ? [told([figure], 'max', 'must not be below what is typical')] : []),
    ];
  });
}

function againstKind(kind: MaterialKind, figures: FigureValues): Contradiction[] {
  const barred = kind === 'organic' ? [] : kind === 'water' ? ofDryMatter : ofTheBalance;
  const detail =
    kind === 'water'
      ? 'is of dry matter, which water has none of'
      : `goes with organic material: what is ${kind} takes no part in the balance of carbon and nitrogen`;
  const noPart = barred.flatMap((figure) => (figures[figure] ? [told([figure], 'typical', detail)] : []));
  return [...noPart, ...againstMoisture(kind, figures)];
}

function againstMoisture(kind: MaterialKind, figures: FigureValues): Contradiction[] {
  return ends(figures, 'moisturePercent').flatMap(([part, value]) => {
    if (kind === 'water') return value === 100 ? [] : [told(['moisturePercent'], part, 'is 100 of water')];
    return value < 100
      ? []
      : [told(['moisturePercent'], part, 'must be below 100: only water has no dry matter')];
  });
}

/** Carbon, nitrogen and ash are parts of one dry matter. */
function beyondDryMatter(figures: FigureValues): Contradiction[] {
  const { nitrogenPercentDry, carbonPercentDry, carbonToNitrogen, ashPercentDry } = figures;
  const nitrogen = nitrogenPercentDry?.typical ?? 0;
  const carbon = carbonPercentDry?.typical ?? nitrogen * (carbonToNitrogen?.typical ?? 0);
  const sum = carbon + nitrogen + (ashPercentDry?.typical ?? 0);
  const asCarbon = carbonPercentDry ? 'carbonPercentDry' : 'carbonToNitrogen';
  const known = ([asCarbon, 'nitrogenPercentDry', 'ashPercentDry'] as const).filter((one) => figures[one]);
  const [first, ...others] = known;
  if (sum <= 100 || first === undefined) return [];
  const percent = `${Math.round(sum * 10) / 10} %`;
  const detail = `makes carbon, nitrogen and ash ${percent} of the dry matter together, which is more than there is`;
  return [told([first, ...others], 'typical', detail)];
}

function againstRatio({
  nitrogenPercentDry,
  carbonPercentDry,
  carbonToNitrogen,
}: FigureValues): Contradiction[] {
  if (!nitrogenPercentDry || !carbonToNitrogen) return [];
  if (nitrogenPercentDry.typical === 0) {
    return [
      told(
        ['carbonToNitrogen', 'nitrogenPercentDry'],
        'typical',
        'has no meaning where there is no nitrogen: give the carbon',
      ),
    ];
  }
  if (!carbonPercentDry) return [];
  const ratio = carbonPercentDry.typical / nitrogenPercentDry.typical;
  if (Math.abs(carbonToNitrogen.typical - ratio) <= ratio * RATIO_TOLERANCE) return [];
  const detail = `is not ${Math.round(ratio * 10) / 10}, which C over N comes to; leave out one of the three`;
  return [told(['carbonToNitrogen', 'carbonPercentDry', 'nitrogenPercentDry'], 'typical', detail)];
}

function ends(figures: FigureValues, figure: MaterialFigure): [Contradiction['part'], number][] {
  const value = figures[figure];
  if (!value) return [];
  return (['typical', 'min', 'max'] as const).flatMap((part) => {
    const end = value[part];
    return end === null ? [] : [[part, end]];
  });
}

function told(figures: Contradiction['figures'], part: Contradiction['part'], detail: string): Contradiction {
  return { figures, part, detail };
}
