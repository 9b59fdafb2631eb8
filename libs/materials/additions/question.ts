import type { MaterialFigures } from '../figures.js';
import type { MissingFigure, Mix, MixFigure, MixPart } from '../mix/figures.js';
import type { MixTarget } from '../mix/targets.js';

/** A container of known volume, in which the yard measures out. */
export interface Measure {
  readonly code: string;
  readonly volumeMl: number;
}

/** A material that could be added. */
export interface Candidate {
  readonly material: MaterialFigures;
  /** What of it lies at the yard; null where nothing limits it, as with water from the tap. */
  readonly availableG: number | null;
  /** In the programme's own currency; null where it does not say. */
  readonly costPerKg: number | null;
  /** What the yard measures it out in; null where nothing of known volume is named. */
  readonly measure: Measure | null;
}

export const leastBy = ['mass', 'cost'] as const;
export type LeastBy = (typeof leastBy)[number];

export interface AdditionsQuestion {
  readonly parts: readonly MixPart[];
  readonly candidates: readonly Candidate[];
  /** At most one a figure; each end that is not null is asked for. */
  readonly targets: readonly MixTarget[];
  readonly leastBy: LeastBy;
  /** What donors or a purchase could bring, tried where the candidates do not suffice: without limit, at no cost. */
  readonly obtainable: readonly MaterialFigures[];
}

/** So much of a material as somebody measures it out: in half containers, by its volume, by its mass; or all there is. */
export interface Dose {
  readonly by: 'container' | 'volume' | 'mass' | 'all';
  /** Null where it is not counted in containers. */
  readonly halves: number | null;
  readonly massG: number;
  /** Null where the density is unknown. */
  readonly volumeMl: number | null;
}

/** So much of one material. */
export interface Addition {
  readonly materialCode: string;
  /** The least that does, to the gram above. */
  readonly massG: number;
  /** Null where the density is unknown. */
  readonly volumeMl: number | null;
  /** All of it that there is, which needs no measuring out. */
  readonly isAll: boolean;
  readonly dose: Dose;
  readonly cost: number | null;
}

/** A target that cannot be met with what there is. */
export interface Unmet {
  readonly target: MixTarget;
  /** The nearest the figure comes to it while all others that can be met are; null where the target itself cannot be. */
  readonly nearest: number | null;
  /** Targets that are in its way: without any one of them, or else without all of them, it could be met. */
  readonly kept: readonly MixTarget[];
}

/** One material which, with what there is, would make it possible. */
export interface Help {
  readonly materialCode: string;
  /** What has to be got of it, beyond what there is: to the gram above, with room for rounding the others. */
  readonly massG: number;
  readonly volumeMl: number | null;
  readonly dose: Dose;
  /** What of the materials there are goes in with it. */
  readonly alongside: readonly {
    readonly materialCode: string;
    readonly massG: number;
    readonly dose: Dose;
  }[];
}

export interface LeftOut {
  readonly materialCode: string;
  readonly why: 'figures-unknown' | 'none-left';
  readonly missing: readonly MissingFigure[];
}

/**
 * `in-range`: nothing needs to be added. `found`: `additions` bring every target into range. `impossible`: the candidates
 * cannot; `unmet` says which target, `wouldHelp` or `together` what would make it possible; where nothing obtainable would, both
 * are empty, and `unmet` is reckoned with all that is obtainable. `contradictory`: a target leaves nothing (a
 * least above a most, or outside what the figure can be); `unmet` says which. `unknown`: nothing of the batch is known by
 * which it could be told.
 */
export interface AdditionsAnswer {
  readonly state: 'in-range' | 'found' | 'impossible' | 'contradictory' | 'unknown';
  readonly additions: readonly Addition[];
  /** The mix with the additions, exactly and by their doses. */
  readonly after: Mix | null;
  readonly afterMeasured: Mix | null;
  /** Targets that half containers would miss, so that what they would hold is weighed. */
  readonly missedMeasured: readonly MixFigure[];
  /** Of the additions whose cost is known; null where none is. */
  readonly cost: number | null;
  /** Additions that count as costing nothing, since nobody said what they cost. */
  readonly costUnknown: readonly string[];
  readonly unmet: readonly Unmet[];
  /** Any one of these would do: what donors often bring first, and of that the least. */
  readonly wouldHelp: readonly Help[];
  /** Where no single material would do: those which together would, the most first. */
  readonly together: readonly Omit<Help, 'alongside' | 'dose'>[];
  readonly leftOut: readonly LeftOut[];
  /** Figures with a target of which nothing is known in the batch: nothing was asked of them. */
  readonly notJudged: readonly MixFigure[];
}
