export const materialClasses = ['nitrogen', 'carbon', 'neutral'] as const;
export type MaterialClass = (typeof materialClasses)[number];

/**
 * What a material is to the balance of carbon and nitrogen. `organic` takes part in it; `mineral` (ash, soil) and
 * `inert-carbon` (charcoal, which hardly decomposes) add dry matter but neither carbon nor nitrogen; `water` is all moisture.
 */
export const materialKinds = ['organic', 'mineral', 'inert-carbon', 'water'] as const;
export type MaterialKind = (typeof materialKinds)[number];

/** What may slow a batch or harm somebody; each has its text and source in `cautions`. */
export const materialTraits = [
  'citrus',
  'allium',
  'herbicide-risk',
  'animal-product',
  'raw-manure',
  'wood-dust',
  'salty',
  'caustic',
] as const;
export type MaterialTrait = (typeof materialTraits)[number];

/**
 * How far a figure was checked.
 * `verified`: read in a copy of the publication named. `mirror`: read on a third-party copy of it. `secondary`: read where
 * another text quotes it. `from-memory`: not seen, check before relying on it. `derived`: arithmetic, a definition, or our
 * own judgement, as the source text says. `local`: stated by the programme itself, as the source text says.
 */
export const verifications = ['verified', 'mirror', 'secondary', 'from-memory', 'derived', 'local'] as const;
export type Verification = (typeof verifications)[number];

export const materialFigures = [
  'nitrogenPercentDry',
  'carbonPercentDry',
  'carbonToNitrogen',
  'ashPercentDry',
  'moisturePercent',
  'bulkDensityKgM3',
] as const;
export type MaterialFigure = (typeof materialFigures)[number];

/** One entry for each figure. */
export function eachFigure<T>(of: (figure: MaterialFigure) => T): Record<MaterialFigure, T> {
  return Object.fromEntries(materialFigures.map((figure) => [figure, of(figure)])) as Record<
    MaterialFigure,
    T
  >;
}

/** What each figure is a part of. Figures on another basis are converted before they are entered, never mixed. */
export const basisOf: Readonly<Record<MaterialFigure, 'dry matter' | 'wet mass' | 'as it lies'>> = {
  nitrogenPercentDry: 'dry matter',
  carbonPercentDry: 'dry matter',
  carbonToNitrogen: 'dry matter',
  ashPercentDry: 'dry matter',
  moisturePercent: 'wet mass',
  bulkDensityKgM3: 'as it lies',
};

/** One figure of a material: what is typical, and between what it was found. */
export interface Figure {
  readonly typical: number;
  /** The range as the source gives it; null at an end that it does not give. */
  readonly min: number | null;
  readonly max: number | null;
  readonly source: string;
  readonly verification: Verification;
  /** Local day of the sample, where it was measured at the site itself; null for what was published. */
  readonly measuredOn: string | null;
}

/** What is known of a material. An unknown figure is null, never a guess. */
export interface MaterialFigures extends Readonly<Record<MaterialFigure, Figure | null>> {
  readonly code: string;
  readonly name: string;
  readonly class: MaterialClass;
  readonly kind: MaterialKind;
  readonly traits: readonly MaterialTrait[];
  /** What no trait says of it, in words. */
  readonly caution: string | null;
  /** Of a material at a site: figures of the list that cannot stand beside what was measured there. */
  readonly dropped?: readonly DroppedFigure[];
}

/** A figure of the list that is not used, since it cannot be of one material with one that was measured. */
export interface DroppedFigure {
  readonly figure: MaterialFigure;
  readonly listed: number;
  readonly beside: MaterialFigure;
  readonly measured: number;
}
