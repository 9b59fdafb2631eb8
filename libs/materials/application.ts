import { estimateMassG, type Layer, type LayerKnown, layerOf } from '#libs/quantities';

/** What compost spread on the ground asks for, and who says so. */
export interface UseCaution {
  readonly code: string;
  readonly text: string;
  /** A document, or "common practice". */
  readonly source: string;
}

export interface Application {
  readonly layer: Layer;
  /** Estimated from the density given; null without one. */
  readonly massG: number | null;
  readonly cautions: readonly UseCaution[];
}

/** One inch, about the most that established plantings are given in a year. */
const DEEP_UM = 25_400;

const TOP_DRESSING = 'Credit Valley Conservation, How to top-dress with compost';

const DEEP: UseCaution = {
  code: 'deep',
  text:
    'This is deeper than an inch (25 mm): more than established plantings are usually given in a year. Spread it over a larger ' +
    'area, or over more than one year. A new bed may take more where it is worked into the soil.',
  source:
    'common practice; guides differ, and one allows 3 to 5 cm: ' +
    `${TOP_DRESSING}; new beds: City of Greeley, Colorado, asks for 4 yd³ on 1,000 ft² (1.3 in), tilled in 6 to 8 in deep`,
};

/** What every use of compost asks for. */
export const useCautions: readonly UseCaution[] = [
  {
    code: 'stems-and-trunks',
    text: 'Keep it off stems and trunks: leave a ring of bare soil around each plant, or the bark may rot.',
    source: `${TOP_DRESSING}: it must not touch the stems; that bark may rot: common practice`,
  },
  {
    code: 'inch-a-year',
    text: 'On established plantings spread no more than about an inch (25 mm) in a year.',
    source: 'common practice',
  },
  {
    code: 'water-in',
    text: 'Water it in, gently enough that nothing runs off into a drain or a stream.',
    source: 'common practice',
  },
  {
    code: 'gloves-and-dust',
    text:
      'Wear gloves and wash your hands afterwards. Damp it before you spread it, stay upwind and do not breathe the dust: it ' +
      'carries spores. People with a weak immune system or bad lungs leave this work to others.',
    source: 'common practice; spores: HSE RR786 (2010)',
  },
  {
    code: 'where-allowed',
    text:
      'Do not use it where its label, the permit or the local authority forbids it, such as near water or on some crops. They ' +
      'decide, not this arithmetic.',
    source: 'common practice',
  },
];

/**
 * Compost for an area, a depth or a volume, whichever two are known, with the mass where a density (kg/m³) is given. Formula:
 * volume = area × depth, exactly; Cornell's factor 0.0031 yd³ per ft²·in (compost.css.cornell.edu/market-label/guidelines)
 * is 1/324 rounded, 0.44 % too much. Throws RangeError as `layerOf` and `estimateMassG` do.
 */
export function applicationOf(known: LayerKnown, densityKgM3?: number): Application {
  const layer = layerOf(known);
  return {
    layer,
    massG: densityKgM3 === undefined ? null : estimateMassG(layer.volumeMl, densityKgM3),
    cautions: layer.depthUm > DEEP_UM ? [DEEP, ...useCautions] : useCautions,
  };
}

/** How many containers of a volume it takes; the last one may not be full. Throws RangeError unless it holds something. */
export function containersFor(volumeMl: number, containerMl: number): number {
  if (!(containerMl > 0)) throw new RangeError(`a container must hold something, not ${containerMl} mL`);
  return Math.ceil(volumeMl / containerMl);
}
