import { CAUTIONS } from '../batch-record/cautions.js';
import type { Caution } from '../batch-record/record.js';

/** What whoever follows a trace must know before they act on it, or on its silence. */
export const RECALL_CAUTIONS: readonly Caution[] = [
  {
    topic: 'What it is not',
    text:
      'These are masses by arithmetic, and no measurement of anything harmful. A small share is not a safe one, and what is ' +
      'not on the list was not recorded, which is not the same as not there. The local authority and, where there is one, the ' +
      'permit say what is to be done, who is to be told and what becomes of the material.',
    source: 'common practice',
  },
  ...CAUTIONS.filter(({ topic }) => topic === 'Herbicide residue'),
  {
    topic: 'Finding out',
    text:
      'A bioassay shows that a herbicide of this kind is there, not which one and not how much. Ask the local extension ' +
      'service, or a laboratory that tests compost for these herbicides, and keep a sample of every batch on the list apart ' +
      'and labelled until it is settled. Meanwhile hold the batches, their overs too, and ask recipients not to spread, sow ' +
      'or pass on what they have.',
    source:
      'Washington State University, Whatcom County, bioassay (what it shows); the rest: common practice',
  },
];
