import { contradictionsIn, type FigureValues } from './contradictions.js';
import { eachFigure, type Figure, type MaterialFigure, type MaterialFigures } from './figures.js';
import { carbonSpanFromAsh } from './mix/carbon.js';

/** One figure of one sample. */
export interface Reading {
  /** `carbonFromAsh`: the ash of a sample of which neither carbon nor N and C:N together were measured. */
  readonly figure: MaterialFigure | 'carbonFromAsh';
  readonly value: number;
  /** When the sample was taken, and the local day of it. */
  readonly atMs: number;
  readonly measuredOn: string;
  /** Who measured, as it is to be told. */
  readonly source: string;
}

const balance = ['nitrogenPercentDry', 'carbonPercentDry', 'carbonToNitrogen'] as const;
type BalanceFigure = (typeof balance)[number];

/** Beside which published figure a measured one stands: the ratio or the nitrogen as published, before the carbon. */
const partnersOf: Readonly<Record<BalanceFigure, readonly BalanceFigure[]>> = {
  nitrogenPercentDry: ['carbonToNitrogen', 'carbonPercentDry'],
  carbonPercentDry: ['nitrogenPercentDry', 'carbonToNitrogen'],
  carbonToNitrogen: ['nitrogenPercentDry', 'carbonPercentDry'],
};

interface Measured {
  readonly figure: Figure;
  readonly atMs: number;
}
type MeasuredFigures = ReadonlyMap<MaterialFigure, Measured>;

/**
 * The figures of a material at a place that measured some of them itself. Figure by figure the later sample goes before the
 * earlier, and any sample before what was published. `readings` holds the latest of each figure.
 *
 * Nitrogen, carbon and C:N are one thing told three ways: two of them say the third. So of an organic material two stand, and
 * no published one is left beside them that no longer fits: the latest measured, and with it the next that was measured;
 * where only one was, N keeps the published C:N, C and C:N keep the published N, and what is not there or does not fit (more
 * carbon and nitrogen than dry matter) gives way to the third. C:N is worked out where N and C stand; carbon and nitrogen
 * that would follow are left out. All three stay where they are of one time and agree, as those of one sample do. A
 * published ash goes where it does not fit in the dry matter beside what was measured.
 */
export function withMeasured(material: MaterialFigures, readings: readonly Reading[]): MaterialFigures {
  const measured = latest(material, readings);
  const laid = {
    ...material,
    ...eachFigure((figure) => measured.get(figure)?.figure ?? material[figure]),
  };
  return material.kind === 'organic' ? withAshThatFits(balanced(laid, measured), measured) : laid;
}

/** The latest of each figure that the material can have: its kind may have been changed since the sample. */
function latest({ kind }: MaterialFigures, readings: readonly Reading[]): MeasuredFigures {
  const estimate = ({ figure }: Reading) => (figure === 'carbonFromAsh' ? 0 : 1);
  const inOrder = [...readings].sort((a, b) => a.atMs - b.atMs || estimate(a) - estimate(b));
  const measured = new Map<MaterialFigure, Measured>();
  for (const reading of inOrder) {
    const name = reading.figure === 'carbonFromAsh' ? 'carbonPercentDry' : reading.figure;
    const figure = figureOf(reading);
    if (contradictionsIn(kind, only({ [name]: figure })).length === 0)
      measured.set(name, { figure, atMs: reading.atMs });
  }
  return measured;
}

function figureOf({ figure, value, measuredOn, source }: Reading): Figure {
  if (figure !== 'carbonFromAsh')
    return { typical: value, min: null, max: null, source, verification: 'local', measuredOn };
  const span = carbonSpanFromAsh({ typical: value, min: value, max: value });
  const formula = `(100 − ash) / 1.8, Cornell Composting, of an ash of ${value} %`;
  return { ...span, source: `${formula}: ${source}`, verification: 'derived', measuredOn };
}

function balanced(laid: MaterialFigures, measured: MeasuredFigures): MaterialFigures {
  const sampled = balance
    .flatMap((figure) => {
      const one = measured.get(figure);
      return one ? [{ figure, atMs: one.atMs }] : [];
    })
    .sort((a, b) => b.atMs - a.atMs);
  const [first, ...others] = sampled;
  if (!first) return laid;
  if (sampled.length === balance.length && others.every(({ atMs }) => atMs === first.atMs) && agree(laid))
    return laid;
  const published = partnersOf[first.figure].filter((figure) => !measured.has(figure));
  const partner = [...others.map(({ figure }) => figure), ...published].find((figure) =>
    fit(laid, first.figure, figure),
  );
  const stands = (figure: BalanceFigure) =>
    figure === first.figure || figure === partner ? laid[figure] : null;
  const [nitrogen, carbon] = [stands('nitrogenPercentDry'), stands('carbonPercentDry')];
  return {
    ...laid,
    nitrogenPercentDry: nitrogen,
    carbonPercentDry: carbon,
    carbonToNitrogen: nitrogen && carbon ? ratioOf(carbon, nitrogen) : stands('carbonToNitrogen'),
  };
}

/** Whether two figures can be of one material. */
function fit(laid: MaterialFigures, one: BalanceFigure, other: BalanceFigure): boolean {
  return laid[other] !== null && agree({ [one]: laid[one], [other]: laid[other] });
}

function agree({
  nitrogenPercentDry = null,
  carbonPercentDry = null,
  carbonToNitrogen = null,
}: Partial<Pick<MaterialFigures, BalanceFigure>>): boolean {
  const figures = only({ nitrogenPercentDry, carbonPercentDry, carbonToNitrogen });
  return contradictionsIn('organic', figures).length === 0;
}

/** Null where there is no nitrogen, or no carbon: that is no ratio. */
function ratioOf(carbon: Figure, nitrogen: Figure): Figure | null {
  const typical = quotient(carbon.typical, nitrogen.typical);
  if (typical === null) return null;
  const days = [carbon.measuredOn, nitrogen.measuredOn].filter((day) => day !== null);
  return {
    typical,
    min: quotient(carbon.min, nitrogen.max),
    max: quotient(carbon.max, nitrogen.min),
    source: `C over N. C: ${carbon.source}. N: ${nitrogen.source}`,
    verification: 'derived',
    measuredOn: days.length === 2 ? (days.sort().at(-1) ?? null) : null,
  };
}

function quotient(above: number | null, below: number | null): number | null {
  if (above === null || below === null) return null;
  const ratio = above / below;
  return ratio > 0 && Number.isFinite(ratio) ? ratio : null;
}

function withAshThatFits(material: MaterialFigures, measured: MeasuredFigures): MaterialFigures {
  if (measured.size === 0 || measured.has('ashPercentDry')) return material;
  const beyond = contradictionsIn(material.kind, material).some(({ figures }) =>
    figures.includes('ashPercentDry'),
  );
  return beyond ? { ...material, ashPercentDry: null } : material;
}

function only(figures: Partial<Record<MaterialFigure, Figure | null>>): FigureValues {
  return eachFigure((figure) => figures[figure] ?? null);
}
