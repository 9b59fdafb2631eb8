import type { SiteCalendar } from '../calendar.js';
import type { CureVerdict } from '../cure/cure-facts.js';
import { sayCount } from '../words.js';
import { never } from './expected.js';
import type { Expected } from './facts.js';

/** When the days of a cure can be over. One that has not begun begins once the process rules are met, at the earliest. */
export function cureExpected(
  { startedAtMs, daysRequired, evidence }: CureVerdict,
  processEarliestMs: number | null,
  lastLookedAtMs: number | null,
  calendar: SiteCalendar,
): Expected {
  const asked = sayCount(daysRequired, 'local day');
  if (startedAtMs === null) {
    if (processEarliestMs === null)
      return never('The cure begins once the process rules are met, which waiting does not bring about.');
    const text = `The cure takes ${asked} from when the curing stage is entered: here not before the process rules are met, and nothing tells how long after, so the end is open.`;
    return {
      earliestMs: calendar.addDays(processEarliestMs, daysRequired),
      latestMs: null,
      assumptions: [text],
    };
  }
  const dueMs = calendar.addDays(startedAtMs, daysRequired);
  const counted = `The cure takes ${asked} from ${calendar.say(startedAtMs)}`;
  const isHot =
    lastLookedAtMs === startedAtMs &&
    evidence.some(({ kind, toMs }) => (kind === 'reheated' || kind === 'still-hot') && toMs === startedAtMs);
  if (isHot) {
    const text = `${counted}, when it was last found hot: until a check finds it cooler, the end is open.`;
    return { earliestMs: dueMs, latestMs: null, assumptions: [text] };
  }
  return { earliestMs: dueMs, latestMs: dueMs, assumptions: [`${counted} and does not reheat.`] };
}
