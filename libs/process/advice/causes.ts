import type { ActionKey } from './actions.js';
import {
  commonPractice,
  cornellMix,
  cornellNeighbours,
  greenWorks,
  nrcs,
  type PracticeSource,
  surrey,
  utah,
  vermont,
} from './sources.js';

interface CauseRow {
  readonly text: string;
  readonly source: PracticeSource;
  /** What is tried against it, in order. */
  readonly actions: readonly ActionKey[];
}

const row = (text: string, source: PracticeSource, ...actions: ActionKey[]): CauseRow => ({
  ...{ text, source, actions },
});

/** What may lie behind what was seen. */
export const causes = {
  dry: row('It may be too dry for the microbes to work.', cornellMix, 'water', 'cover-against-drying'),
  wet: row('It may be too wet for air to get in.', greenWorks, 'mix-dry', 'cover-from-rain'),
  'little-air': row('Too little air may get into it.', greenWorks, 'turn'),
  dense: row('It may be so dense that it holds little air.', nrcs, 'mix-coarse', 'turn'),
  'little-nitrogen': row('It may hold too little nitrogen for its carbon.', greenWorks, 'mix-greens'),
  'much-nitrogen': row(
    'It may hold more nitrogen than its carbon can bind.',
    vermont,
    'mix-browns',
    'fewer-greens',
  ),
  small: row('It may be too small to keep its heat.', greenWorks, 'make-bigger', 'insulate'),
  'cold-air': row('Cold weather may take its heat away.', greenWorks, 'insulate'),
  mixing: row('It may not be mixed well enough.', nrcs, 'turn-outside-in'),
  large: row('It may be too big for its heat to get out.', surrey, 'make-smaller'),
  'dry-core': row('It may be too dry inside to cool itself.', surrey, 'water'),
  'cool-outside': row(
    'The outside of a pile loses its heat, and stays cooler than the core.',
    commonPractice,
    'turn-outside-in',
    'insulate',
  ),
  'uneven-probes': row('The probes may not have stood equally deep.', commonPractice, 'probe-closer'),
  misread: row('The probe or the unit may be wrong.', commonPractice, 'read-again'),
  'hot-phase-over': row('The hot phase may be over.', utah, 'turn-and-watch', 'see-the-rule'),
  'not-stable': row(
    'It may not be stable yet, and the last turn gave it new air.',
    utah,
    'turn-in-cure',
    'keep-moist',
  ),
  'no-air-wet': row(
    'Moist material without air rots and smells.',
    cornellNeighbours,
    'bulk-and-air',
    'turn-often',
  ),
  acids: row('Fresh food scraps make acids, and more of them without air.', commonPractice, 'bulk-and-air'),
  lime: row('Lime or ash may have gone in.', commonPractice, 'no-lime'),
  'open-food': row('Food may lie open.', greenWorks, 'bury-food'),
  'meat-fat': row('Meat or fat may have gone in.', greenWorks, 'no-meat'),
  'way-in': row('The bin may have a way in.', commonPractice, 'close-gaps'),
  'cool-dry-nest': row(
    'A cool, dry, quiet pile is a place to nest.',
    commonPractice,
    'heat-it-up',
    'clear-around',
  ),
  'cool-rim': row('The rim may be too cool to kill eggs.', commonPractice, 'turn-larvae-in'),
} as const satisfies Record<string, CauseRow>;

export type CauseKey = keyof typeof causes;
