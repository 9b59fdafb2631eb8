import type { SiteCalendar } from './calendar.js';
import type { History } from './history.js';
import { ownLongestGapHours, type ProcessRule } from './rule.js';
import type { Terms } from './terms.js';

/** The choices a verdict rests on, and what it does not say. */
export function notesOf(
  rule: ProcessRule,
  terms: Terms,
  history: History,
  timeZone: string,
  calendar: SiteCalendar,
): string[] {
  const ifSo: [applies: boolean, note: string][] = [
    [
      rule.continuity === 'unstated',
      `The rule does not say whether its time must be consecutive. Here it is read as ${terms.reading}.`,
    ],
    [
      rule.basis === 'elapsed' && rule.longestGapHours === null,
      `The rule does not say how far apart two checks may be. The ${ownLongestGapHours} hours used here are this program's own choice.`,
    ],
    [
      rule.textStatus !== 'verified',
      `The rule's figures come from: ${rule.textSource}. Compare them with the text in force.`,
    ],
    [
      history.additions.length === 0 && history.inherited.length === 0,
      'No raw material is recorded, so there is nothing to start counting from.',
    ],
    [!calendar.known, `The time zone "${timeZone}" is not known. Times are given in UTC.`],
  ];
  return [
    ...ifSo.filter(([applies]) => applies).map(([, note]) => note),
    "This speaks of the rule's recorded criteria only. The permit and the local authority decide.",
  ];
}
