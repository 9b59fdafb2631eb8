import {
  aspergillus,
  commonPractice,
  nioshLifting,
  type PracticeSource,
  protection,
  surrey,
} from './sources.js';

/** Where somebody can be hurt, or a count undone. */
export const cautions = {
  flare: {
    text: 'An overheated pile can flare up when air reaches it: never alone, upwind, with a running hose in hand and a way out.',
    source: surrey,
  },
  smoke: {
    text: 'Smoke from a smouldering pile is poisonous: stay upwind and out of it.',
    source: commonPractice,
  },
  hot: {
    text: 'The core of a working pile and its steam scald: stand upwind, in gloves and long sleeves.',
    source: commonPractice,
  },
  spores: {
    text: 'Moving compost raises spores and dust, which can endanger people with weak lungs or a weak immune system: keep it damp, stand upwind, and leave it to others if that is you.',
    source: aspergillus,
  },
  mask: { text: 'Wear a close-fitting dust mask (N95) where it is dusty.', source: protection },
  lifting: {
    text: 'Carry small loads or share them: 23 kg (51 lb) is the limit in the best conditions only.',
    source: nioshLifting,
  },
  wash: { text: 'Wear gloves, cover cuts, and wash hands afterwards.', source: protection },
  droppings: {
    text: 'Droppings and urine of rodents carry disease: wet them before they are swept up, and do not touch them with bare hands.',
    source: commonPractice,
  },
  clock: {
    text: 'Raw material added now starts the time of the process rule anew.',
    source: commonPractice,
  },
} as const satisfies Record<string, { text: string; source: PracticeSource }>;

export type CautionKey = keyof typeof cautions;
