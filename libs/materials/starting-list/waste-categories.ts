/** Each category as those who count waste name it, and the materials of the starting list that are of it. */
const byCategory = {
  food: [
    ...['food-scraps', 'vegetable-scraps', 'fruit-scraps', 'citrus-peel', 'onions', 'garlic', 'pumpkins'],
    ...['coffee-grounds', 'tea-leaves', 'bread', 'spent-grain', 'meat-scraps', 'fish-scraps', 'dairy'],
    'egg-shells',
  ],
  grass: ['grass-clippings'],
  leaves: ['leaves', 'leaves-oak', 'leaves-maple', 'pine-needles'],
  branches: [
    ...['shrub-trimmings', 'tree-trimmings'],
    ...['wood-chips', 'wood-chips-hardwood', 'wood-chips-softwood'],
  ],
  'yard-trimmings': ['yard-trimmings'],
  other: [
    ...['cooking-oil', 'seaweed', 'straw-wheat', 'straw-oat', 'hay', 'wood-shavings', 'sawdust'],
    ...['cardboard', 'newsprint', 'paper-mixed', 'paper-office'],
    ...['horse-manure-straw', 'horse-manure-shavings', 'chicken-litter', 'cow-manure', 'sheep-manure'],
    ...['rabbit-manure', 'mushroom-substrate', 'finished-compost', 'overs'],
    ...['wood-ash', 'garden-soil', 'biochar'],
  ],
} as const;

const categories = Object.keys(byCategory) as (keyof typeof byCategory)[];

/**
 * The waste category of each material of the starting list, by its code; our own judgement. Chips are counted as the branches
 * they were. Water is no waste, and has none.
 */
export const startingWasteCategories: Readonly<Partial<Record<string, keyof typeof byCategory>>> =
  Object.fromEntries(categories.flatMap((category) => byCategory[category].map((code) => [code, category])));
