import type { CautionKey } from './cautions.js';
import {
  agriFutures,
  aphis,
  bioAbfV,
  commonPractice,
  cornellNeighbours,
  greenWorks,
  highfields,
  mysticValley,
  nrcs,
  type PracticeSource,
  surrey,
  utah,
  vermont,
} from './sources.js';

interface ActionRow {
  readonly text: string;
  readonly cautions: readonly CautionKey[];
  readonly source: PracticeSource;
}

const row = (text: string, source: PracticeSource, ...cautions: CautionKey[]): ActionRow => ({
  ...{ text, source, cautions },
});

const moving: CautionKey[] = ['hot', 'spores', 'mask', 'lifting', 'wash'];
const adding: CautionKey[] = ['lifting', 'wash', 'clock'];

/** Everything that may be advised, each as one thing to do. */
export const actions = {
  'keep-away': row(
    'Keep people, machines and flames away from the pile and follow the fire plan of the site.',
    commonPractice,
    'smoke',
  ),
  'call-fire-service': row(
    'Call the fire service for advice before anybody opens the pile, unless the overheated part is small enough to deal with in safety.',
    surrey,
    'flare',
    'smoke',
  ),
  'cool-small-part': row(
    'If it is small enough for that, turn it out a little at a time and hose down the hot compost as it comes to light.',
    surrey,
    'flare',
    'smoke',
    'hot',
  ),
  'read-again': row(
    'Read it again with a second probe, without climbing on the pile, and see whether the unit was written down right.',
    commonPractice,
    'hot',
  ),
  'turn-and-hose': row(
    'Find out how far the heat reaches, turn that part over to let it out, and hose down what is exposed.',
    surrey,
    'flare',
    ...moving,
  ),
  'probe-daily': row('Probe it at least once a day until it is cooler.', nrcs, 'hot'),
  'keep-watch': row('Keep watch on it, day and night, until it has stayed cooler.', commonPractice, 'smoke'),
  'make-smaller': row('Make the pile smaller, not deeper than six feet (1.8 m).', surrey, ...moving),
  'check-now': row('Probe the pile, and write down moisture and smell as well.', bioAbfV, 'hot'),
  'squeeze-test': row(
    'Squeeze a handful from the inside: like a wrung-out sponge is right, a stream is too wet, dust is too dry.',
    vermont,
    'hot',
    'wash',
  ),
  'complete-mix': row(
    'See what it still needs, which is worked out from what lies at the yard, and mix that in while it is being built.',
    commonPractice,
    'spores',
    'mask',
    'lifting',
    'wash',
  ),
  'state-figures': row(
    'See which figures of its materials are missing, and state them or have them measured.',
    commonPractice,
  ),
  'look-into': row(
    'Dig in at a few places and look at moisture, air space and how well it is mixed.',
    nrcs,
    'hot',
    'spores',
    'wash',
  ),
  water: row('Add water while turning, until it is damp throughout.', greenWorks, ...moving),
  'water-from-above': row(
    'Water slowly and in several goes, so that it soaks in, since this pile is not turned.',
    commonPractice,
  ),
  'cover-against-drying': row(
    'Cover it with finished compost, chips or a fleece that breathes.',
    commonPractice,
  ),
  'mix-dry': row(
    'Mix in coarse dry material, such as leaves, wood chips or straw, while turning.',
    greenWorks,
    ...moving,
    'clock',
  ),
  'cover-from-rain': row('Keep rain off it and let water drain away.', commonPractice),
  turn: row('Turn it to let air in.', greenWorks, ...moving),
  'turn-outside-in': row(
    'Turn the outside to the inside, so that every part gets its time in the core.',
    commonPractice,
    ...moving,
  ),
  aerate: row('Run the air longer, and look for pipes that are blocked or lie too shallow.', commonPractice),
  remix: row('Take it apart, mix it well and build it again.', nrcs, ...moving),
  'mix-greens': row(
    'Mix in material rich in nitrogen, such as food scraps or fresh grass.',
    greenWorks,
    ...moving,
    'clock',
  ),
  'make-bigger': row('Make the pile bigger, or join it with another of the same age.', greenWorks, ...adding),
  insulate: row('Insulate it with a layer of straw, leaves or finished compost.', greenWorks, 'lifting'),
  'mix-coarse': row('Mix in coarse chips so that it stands more open.', nrcs, ...moving, 'clock'),
  'mix-browns': row(
    'Mix in material rich in carbon, such as dry leaves, wood chips or straw.',
    vermont,
    ...moving,
    'clock',
  ),
  'fewer-greens': row('Put no more grass or manure into it until the smell is gone.', vermont),
  'no-lime': row('Use neither lime nor ash on it: both drive ammonia out.', commonPractice),
  'bulk-and-air': row(
    'Turn in dry bulking material, such as straw or wood chips, so that air gets through again.',
    cornellNeighbours,
    ...moving,
    'clock',
  ),
  'turn-often': row(
    'Turn it every few days until the smell is gone, when the wind is off the neighbours.',
    vermont,
    ...moving,
  ),
  'cap-it': row('Cap it with chips or finished compost to hold the smell.', commonPractice, 'lifting'),
  'probe-closer': row(
    'Probe at closer spacing, at the same depth, to see where the cold parts lie.',
    aphis,
    'hot',
  ),
  'turn-and-watch': row(
    'Turn it once more and probe it for three days: if it does not reheat, curing can begin.',
    utah,
    ...moving,
  ),
  'see-the-rule': row('See whether its process rule is met before it goes to cure.', commonPractice),
  'turn-in-cure': row(
    'Turn it more often, or make it smaller, and let it go on curing.',
    agriFutures,
    ...moving,
  ),
  'keep-moist': row('Keep it moist while it cures.', highfields),
  'bury-food': row(
    'Cover or bury all food at once under browns, chips or finished compost.',
    greenWorks,
    'wash',
  ),
  'heat-it-up': row(
    'Turn it and keep it moist so that it heats: animals look for dry and undisturbed places.',
    mysticValley,
    ...moving,
  ),
  'close-gaps': row(
    'Close every gap wider than 1/4 to 1/2 inch (6 to 13 mm) with wire mesh, and keep lids shut.',
    mysticValley,
    'droppings',
    'wash',
  ),
  'no-meat': row('Keep meat and fat out, or use a bin that animals cannot get into.', greenWorks, 'wash'),
  'clear-around': row(
    'Clear away wood piles, brush and other food nearby.',
    mysticValley,
    'droppings',
    'wash',
  ),
  'turn-larvae-in': row(
    'Turn the outer layer into the hot core, which kills eggs and maggots.',
    commonPractice,
    ...moving,
  ),
  'catch-leachate': row(
    'Catch what runs out and keep it from drains, streams and finished compost.',
    commonPractice,
    'wash',
  ),
} as const satisfies Record<string, ActionRow>;

export type ActionKey = keyof typeof actions;

/** What is done instead at a pile that stands still with air blown through it, or in a vessel. */
export const withoutTurning: Partial<Record<ActionKey, ActionKey>> = {
  turn: 'aerate',
  'turn-often': 'aerate',
  'turn-outside-in': 'remix',
  water: 'water-from-above',
};
