import type { ActionKey } from './actions.js';
import type { CauseKey } from './causes.js';

interface GuideRow {
  readonly title: string;
  /** What is done before any cause is looked into, in order. */
  readonly first: readonly ActionKey[];
  /** In the order a practitioner would think of them. */
  readonly causes: readonly CauseKey[];
  /** What is done last, whatever the cause. */
  readonly last: readonly ActionKey[];
  /** The remedies of the causes wait: nothing but `first` and `last` is to be done now. */
  readonly causesWait: boolean;
}

const row = (
  title: string,
  causes: readonly CauseKey[],
  { first = [], last = [], causesWait = false }: Partial<Omit<GuideRow, 'title' | 'causes'>> = {},
): GuideRow => ({ title, first, causes, last, causesWait });

/** Everything that advice can be given on, in the order in which it is told. */
export const guide = {
  'fire-danger': row('Danger of fire', ['misread', 'large', 'dry-core'], {
    first: ['keep-away', 'call-fire-service', 'read-again', 'cool-small-part'],
    last: ['keep-watch'],
    causesWait: true,
  }),
  'too-hot': row('Too hot', ['large', 'dry-core', 'little-air'], {
    first: ['turn-and-hose'],
    last: ['probe-daily'],
  }),
  hot: row('Hotter than it works well', ['little-air', 'large', 'dry-core'], { last: ['probe-daily'] }),
  'mix-missed': row('The mix is not what is asked for', [], { first: ['complete-mix'] }),
  'mix-unknown': row('Not known whether the mix is what is asked for', [], { first: ['state-figures'] }),
  'not-checked': row('Not looked at lately', [], { first: ['check-now'] }),
  'not-heating': row(
    'Not heating',
    ['dry', 'wet', 'dense', 'little-air', 'mixing', 'little-nitrogen', 'small', 'cold-air'],
    { first: ['squeeze-test', 'look-into'] },
  ),
  stalled: row('Cooled too soon', ['dry', 'wet', 'dense', 'little-air', 'mixing', 'cold-air'], {
    first: ['look-into'],
    last: ['turn-and-watch'],
  }),
  cooled: row('Finished, or only stalled', ['hot-phase-over', 'dry', 'little-air', 'mixing'], {
    first: ['squeeze-test'],
  }),
  finishing: row('The hot phase may be over', ['hot-phase-over']),
  reheated: row('Reheating in the cure', ['not-stable', 'large']),
  'uneven-heating': row('Heating unevenly', ['cool-outside', 'mixing', 'dry', 'wet', 'uneven-probes'], {
    first: ['probe-closer'],
  }),
  dry: row('Dry', ['dry']),
  wet: row('Wet', ['wet', 'dense']),
  ammonia: row('Smell of ammonia', ['much-nitrogen', 'wet', 'little-air', 'lime'], { last: ['cap-it'] }),
  rotten: row('Rotten smell', ['no-air-wet', 'wet', 'dense', 'open-food'], { last: ['cap-it'] }),
  sour: row('Sour smell', ['acids', 'wet', 'little-air'], { last: ['cap-it'] }),
  rodents: row('Rodents', ['open-food', 'way-in', 'cool-dry-nest', 'meat-fat']),
  flies: row('Flies', ['open-food', 'cool-rim', 'meat-fat']),
  leachate: row('Liquid running out', ['wet'], { first: ['catch-leachate'] }),
} as const satisfies Record<string, GuideRow>;

export type AdviceKey = keyof typeof guide;
