/**
 * How far a source was read: in a copy of the publication itself, in a copy at a third party's, not at all (from memory),
 * or there is none, and it is what the trade commonly does; or the programme itself typed it in, from its permit.
 */
export const sourceStatuses = ['verified', 'mirror', 'from-memory', 'common-practice', 'local'] as const;
export type SourceStatus = (typeof sourceStatuses)[number];

export interface PracticeSource {
  readonly title: string;
  readonly status: SourceStatus;
}

const verified = (title: string): PracticeSource => ({ title, status: 'verified' });
const mirror = (title: string): PracticeSource => ({ title, status: 'mirror' });
const fromMemory = (title: string): PracticeSource => ({ title, status: 'from-memory' });

/** Nothing published was read that says so. */
export const commonPractice: PracticeSource = { title: 'common practice', status: 'common-practice' };

export const surrey = verified('Surrey Fire and Rescue Service, "Fire safety management of compost piles"');
export const nrcs = mirror('USDA NRCS, Conservation Practice Job Sheet 317 "Composting Facility" (2002)');
export const manitoba = verified('Manitoba Agriculture, "Compost elements"');
export const lsu = verified('LSU AgCenter publication 3838-D (adapted from NRAES-54)');
export const cornellMix = verified('Cornell Composting, "Getting the Right Mix"');
export const cornellNeighbours = verified(
  'Cornell Chronicle, "How to compost and keep the neighbors happy" (July 1998)',
);
export const vermont = verified(
  'University of Vermont, Department of Plant and Soil Science, "Compost happens, or does it?"',
);
export const aphis = verified(
  'USDA APHIS, in-house composting, "Monitoring and turning" (written for avian-influenza carcasses)',
);
export const agriFutures = verified('AgriFutures, poultry waste composting guidelines, "Curing"');
export const utah = mirror('Utah State University Extension, "The Composting Process" (1995)');
export const highfields = verified(
  'Highfields Center for Composting, school composting, "Finishing the piles"',
);
export const westford = verified('Town of Westford, Massachusetts, composting FAQ');
export const mysticValley = verified('Mystic Valley Public Health Coalition, "Proper compost guidelines"');
export const bioAbfV = verified('BioAbfV (Germany), Annex 2 no. 3.2');
export const aspergillus = verified('BioCycle (2024), "Composting and Aspergillus fumigatus"');
export const nioshLifting = verified('NIOSH lifting equation, load constant (NIOSH 94-110, rev. 2021)');
export const clemson = verified('Clemson University, compost interpretation');

/** A sheet of conditions, causes and remedies that refers to NC State Extension. */
export const greenWorks = mirror(
  'Asheville GreenWorks, "Backyard composting troubleshooting" (refers to NC State Extension)',
);

export const turnTrigger = fromMemory('a trigger common in handbooks (160 °F)');
export const dryHotWindow = fromMemory('On-Farm Composting Handbook, NRAES-54, on spontaneous combustion');
export const protection = fromMemory('general advice of extension services');
