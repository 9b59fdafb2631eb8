import { type PracticeSource, commonPractice, westford } from '../advice/sources.js';
import type { ObservedCheck, Odour, Texture } from '../observed.js';
import { sayLook } from '../observed-words.js';
import type { Cured } from './cured.js';
import type { ReadinessFinding, ReadinessState } from './facts.js';

type Found = Pick<ReadinessFinding, 'state' | 'text' | 'source'>;

/** How a word that was noted reads. */
interface Reading {
  readonly state: ReadinessState;
  readonly text: string;
  readonly source: PracticeSource;
}

const row = (state: ReadinessState, text: string, source = westford): Reading => ({ state, text, source });

const smells: Record<Odour, Reading> = {
  earthy: row('yes', 'it smells of earth, as ready compost does'),
  none: row('yes', 'it has no smell', commonPractice),
  ammonia: row('no', 'it smells of ammonia, which ready compost does not'),
  sour: row('no', 'it smells sour: it lacks air, or is still working', commonPractice),
  rotten: row('no', 'it smells rotten, which ready compost does not'),
};

const textures: Record<Texture, Reading> = {
  crumbly: row('yes', 'it is crumbly, as ready compost is'),
  clumpy: row('no', 'it clumps: it may be too wet, or not broken down yet', commonPractice),
  slimy: row('no', 'it is slimy: it lacks air', commonPractice),
};

const recognised = {
  true: row('no', 'what went in can still be recognised'),
  false: row('yes', 'what went in cannot be recognised any more, woody pieces aside'),
};

export const smell = (cured: Cured): Found =>
  noted(cured, ({ odour }) => odour && smells[odour], 'Nobody noted its smell since the cure began.');

export const texture = (cured: Cured): Found =>
  noted(
    cured,
    (check) => check.texture && textures[check.texture],
    'Nobody noted its texture since the cure began.',
  );

export const inputs = (cured: Cured): Found =>
  noted(
    cured,
    ({ inputsVisible }) => (inputsVisible === null ? null : recognised[`${inputsVisible}`]),
    'Nobody noted since the cure began whether what went in can be recognised.',
  );

/** By the last check that noted it. */
function noted(
  { calendar, checks }: Cured,
  readingOf: (check: ObservedCheck) => Reading | null,
  unknown: string,
): Found {
  const last = checks.findLast((check) => readingOf(check) !== null);
  const reading = last && readingOf(last);
  if (!last || !reading) return { state: 'not-known', text: unknown, source: westford };
  const { state, text, source } = reading;
  return { state, text: `${sayLook(calendar, last)}: ${text}.`, source };
}
