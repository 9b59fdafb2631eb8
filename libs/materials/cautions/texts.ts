import type { MaterialTrait } from '../figures.js';
import type { Said } from './caution.js';

const commonPractice = 'common practice';

/**
 * The share of the wet mass of a batch from which citrus, or onion and garlic, is spoken of as dominating it. Our own
 * figure: practice says "in moderation", and no published one was found.
 */
export const DOMINANT_SHARE = 0.25;

/** Said wherever the material is, however little of it. */
export const always: Readonly<Record<Exclude<MaterialTrait, 'citrus' | 'allium' | 'animal-product'>, Said>> =
  {
    'herbicide-risk': {
      text: 'May carry persistent herbicides, which survive composting and can harm plants at about 1 part in a billion. Ask whether the field, pasture or lawn was sprayed, and test the compost with a bioassay (grow beans or clover in it) before it goes out.',
      source:
        'US Composting Council, Persistent Herbicide FAQ; BioCycle, August 2013 (aminopyralid from 1, clopyralid from 10 parts in a billion)',
    },
    'raw-manure': {
      text: 'Raw manure can carry pathogens. Keep it, and the tools that touched it, away from finished compost; wash hands; and see that all of it goes through the time and temperature that the process rule asks.',
      source: commonPractice,
    },
    'wood-dust': {
      text: 'Untreated, unpainted wood only. Fine dust harms lungs and can burn: damp it down, and wear a mask where it flies.',
      source: commonPractice,
    },
    salty: {
      text: 'Brings salt, which stays in the compost and can hold plants back. Keep it to a small share, and have the soluble salts tested.',
      source: commonPractice,
    },
    caustic: {
      text: 'Ash burns skin and eyes and drives nitrogen off as ammonia. Ash of untreated wood only, little at a time; wear gloves and goggles.',
      source: commonPractice,
    },
  };

/** Said where it makes up much of the batch. */
export const whereDominant: Readonly<Record<'citrus' | 'allium', Said>> = {
  citrus: {
    text: 'So much citrus can slow the start: it is acid, and its peel oils hold microbes back. Chop it, spread it through the pile, and add browns.',
    source: `${commonPractice}; a trial that composted citrus waste limed it first and took three months (Bioresource Technology 81, 2002). A quarter of the mass is our own threshold`,
  },
  allium: {
    text: 'So much onion and garlic can slow the start and smells strongly. Chop it, spread it through the pile, and cover it with browns.',
    source: `${commonPractice}. A quarter of the mass is our own threshold`,
  },
};

const DRAWS_ANIMALS =
  'Meat, fish, dairy and oil draw rats, flies and birds, and smell: bury them at once in the hot middle of the pile and cover them.';

/** By what is on record of the permit: it allows the material, it does not, or nothing is known. */
export function animalProduct(allowed: boolean | null): Said {
  return { text: `${permitWords(allowed)} ${DRAWS_ANIMALS}`, source: commonPractice };
}

function permitWords(allowed: boolean | null): string {
  if (allowed === null) return 'No permit on record says whether it may go in: ask the authority first.';
  return allowed
    ? 'The permit as recorded does not leave it out; its conditions, and the process rule, still decide.'
    : 'The permit as recorded does not list it: leave it out unless the authority allows it.';
}
