import { type FactorUsed, type WasteCategory } from './estimate.js';
import type { CategoryFactors, GreenhouseSet } from './set.js';

/** As WARM names them: its factor for food waste is the mix of all of it, meat included. */
const warmNames: Readonly<Record<Exclude<WasteCategory, 'other'>, string>> = {
  food: 'food waste',
  grass: 'grass',
  leaves: 'leaves',
  branches: 'branches',
  'yard-trimmings': 'yard trimmings',
  'mixed-organics': 'mixed organics',
};
type WarmCategory = keyof typeof warmNames;
type WarmFactors = Partial<Record<WarmCategory, CategoryFactors>>;

const landfillOf = 'national average of landfill gas recovery, typical collection, average conditions';

const warmNotes = [
  'WARM counts over the whole life of a material: below zero is a net saving, since carbon that compost leaves in the soil and fertiliser that need not be made are counted against what hauling, turning and rotting give off.',
  'The difference is composting less landfill. WARM itself means only differences between two ways to be used, and no single factor by itself.',
  `Landfill is taken with WARM's ${landfillOf}. The landfill that the material would have gone to may be better or worse.`,
];

/**
 * Solved from the matrices that EPA publishes with its WARM v15 (CH4 25, N2O 298). Its column for mixed organics gives other
 * figures than a mean of its parts does (0.1802 against 0.172 for landfill), so that of mixed organics nothing is said.
 */
export const warm15: GreenhouseSet = warm({
  code: 'us-epa-warm-15',
  version: 'v15, November 2020',
  checked:
    "derived: solved from EPA's own published matrices; food and yard agree with the two decimals of a second-hand copy",
  byCategory: {
    food: { landfill: '0.4975', composting: '-0.1156' },
    'yard-trimmings': { landfill: '-0.2005', composting: '-0.0536' },
    grass: { landfill: '0.1157', composting: '-0.0536' },
    leaves: { landfill: '-0.5339', composting: '-0.0536' },
    branches: { landfill: '-0.5361', composting: '-0.0536' },
  },
});

/** The sheet "Summary Data" of the workbook, in the digits it keeps. */
export const warm16: GreenhouseSet = warm({
  code: 'us-epa-warm-16',
  version: 'v16, December 2023',
  checked: 'secondary: a second-hand copy of the sheet "Summary Data"; landfill agrees with another',
  byCategory: {
    food: { landfill: '0.5014622340279833', composting: '-0.15213492335194' },
    'yard-trimmings': { landfill: '-0.20051974151841304', composting: '-0.10590613724308875' },
    grass: { landfill: '0.1157487405734986', composting: '-0.10590613724308875' },
    leaves: { landfill: '-0.5338629284197376', composting: '-0.10590613724308875' },
    branches: { landfill: '-0.536062587835046', composting: '-0.10590613724308875' },
    'mixed-organics': { landfill: '0.15807392806431295', composting: '-0.13040739388077993' },
  },
});

interface WarmVersion {
  readonly code: string;
  readonly version: string;
  readonly checked: string;
  readonly byCategory: WarmFactors;
}

function warm({ code, version, checked, byCategory }: WarmVersion): GreenhouseSet {
  const title = 'US EPA Waste Reduction Model (WARM)';
  const source = `${title}, ${version}`;
  return {
    code,
    title,
    version,
    source,
    checked,
    perKg: '907.18474',
    byCategory,
    factorsOf: (categories) => factorsOf(byCategory, categories, `${source} (${checked})`),
    notes: warmNotes,
  };
}

function factorsOf(
  byCategory: WarmFactors,
  categories: readonly WasteCategory[],
  source: string,
): FactorUsed[] {
  const unit = 't CO2e per short ton';
  return categories.flatMap((category) => {
    const factors = category === 'other' ? undefined : byCategory[category];
    if (category === 'other' || !factors) return [];
    const name = warmNames[category];
    return [
      { name: `composting of ${name}`, value: Number(factors.composting), unit, source },
      {
        name: `landfill of ${name}`,
        value: Number(factors.landfill),
        unit,
        source: `${source}, ${landfillOf}`,
      },
    ];
  });
}
