export const materialClasses = ['nitrogen', 'carbon', 'neutral'] as const;
export type MaterialClass = (typeof materialClasses)[number];

/**
 * How far a row was checked; the weakest of its figures decides.
 * `verified`: read in a copy of the publication named. `mirror`: read on a third-party copy of it. `secondary`: read where
 * another text quotes it. `from-memory`: not seen, check before relying on it. `derived`: arithmetic, a definition, or our
 * own judgement, as the source text says. `local`: stated by the programme itself, as the source text says.
 */
export const verifications = ['verified', 'mirror', 'secondary', 'from-memory', 'derived', 'local'] as const;
export type Verification = (typeof verifications)[number];

/**
 * What is known of a material. An unknown figure is null, never a guess.
 * Nitrogen and C:N are of the dry matter; moisture is per cent of the wet mass. Nitrogen of 0 says that the material takes
 * part in neither the nitrogen nor the carbon of a mix (water, mineral ash), so it needs no C:N.
 */
export interface MaterialFigures {
  readonly code: string;
  readonly name: string;
  readonly class: MaterialClass;
  readonly nitrogenPercentDry: number | null;
  readonly carbonToNitrogen: number | null;
  readonly moisturePercent: number | null;
  readonly bulkDensityKgM3: number | null;
  readonly source: string;
  readonly verification: Verification;
  readonly caution?: string;
}
