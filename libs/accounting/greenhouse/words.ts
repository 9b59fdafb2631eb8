import type { GreenhouseLine, WasteCategory } from './estimate.js';
import type { GreenhouseSet } from './set.js';

export const wasteCategoryNames: Readonly<Record<WasteCategory, string>> = {
  food: 'food',
  grass: 'grass',
  leaves: 'leaves',
  branches: 'branches and brush',
  'yard-trimmings': 'yard trimmings',
  'mixed-organics': 'mixed organics',
  other: 'other material',
};

/** What the estimate is and is not, in sentences: of its method, and of what is peculiar to these lines. */
export function estimateNotes(set: GreenhouseSet, lines: readonly GreenhouseLine[]): string[] {
  const worse = lines.filter(({ differenceTCo2e }) => differenceTCo2e !== null && differenceTCo2e > 0);
  const unknown = lines.filter(({ compostingTCo2e }) => compostingTCo2e === null);
  return [
    'An estimate by published averages of the mass that was accepted, and no measurement of what these piles gave off. What was later taken out of batches as residue is counted as composted.',
    ...set.notes,
    ...(worse.length > 0 ? [worseNote(worse)] : []),
    ...unknown.map(unknownNote),
    'Figures of different sets rest on different methods and are neither added nor compared.',
  ];
}

function worseNote(lines: readonly GreenhouseLine[]): string {
  const named = listed(lines.map(({ category }) => wasteCategoryNames[category]));
  return `By this method composting scores worse than landfill for ${named}: it counts the carbon that does not rot in a landfill as stored there. The sign is printed as the method gives it.`;
}

function unknownNote({ category, materials }: GreenhouseLine): string {
  return `The set has no factor for ${wasteCategoryNames[category]} (${materials.join(', ')}): it is in no total.`;
}

function listed(names: readonly string[]): string {
  return new Intl.ListFormat('en-GB', { type: 'conjunction' }).format(names);
}
