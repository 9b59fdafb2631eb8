import { hourMs, type SiteCalendar } from '../calendar.js';
import type { Caution } from '../facts.js';
import type { ProcessState } from '../reading/process-state.js';
import type { Terms } from '../reading/terms.js';
import { sayCount } from '../words.js';

/** The choices a verdict rests on, and what it does not say. */
export function notesOf(
  { rule, timeZone, addition, inherited }: ProcessState,
  terms: Terms,
  cautions: readonly Caution[],
  calendar: SiteCalendar,
): string[] {
  const used = cautions.filter(({ kind }) => kind !== 'set-aside');
  const ifSo: [applies: boolean, note: string][] = [
    [
      rule.continuity === 'unstated',
      `The rule does not say whether its time must be consecutive. Here it is read as ${terms.reading}.`,
    ],
    [
      rule.basis === 'elapsed' && rule.longestGapHours === null,
      `The rule does not say how far apart two checks may be. The ${terms.longestGapMs / hourMs} hours used here are this program's own choice.`,
    ],
    [
      rule.textStatus !== 'verified',
      `The rule's figures come from: ${rule.textSource}. Compare them with the text in force.`,
    ],
    [
      addition === null && inherited.length === 0,
      'No raw material is recorded, so there is nothing to start counting from.',
    ],
    [!calendar.known, `The time zone "${timeZone}" is not known. Times are given in UTC.`],
    [
      used.length > 0,
      `${sayCount(used.length, 'caution')} about the instruments: their readings are used all the same, and may be wrong.`,
    ],
  ];
  return [
    ...ifSo.filter(([applies]) => applies).map(([, note]) => note),
    ...rule.notes,
    "This speaks of the rule's recorded criteria only. The permit and the local authority decide.",
  ];
}
