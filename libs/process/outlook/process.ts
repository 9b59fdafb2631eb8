import type { SiteCalendar } from '../calendar.js';
import type { Turn } from '../facts.js';
import type { Verdict } from '../verdict.js';
import { bothOf, never } from './expected.js';
import type { Expected } from './facts.js';
import { runOf } from './run.js';
import { timeExpected } from './time.js';
import { turnsExpected } from './turns.js';

/** When a process rule that is not met yet can be shown to be. */
export function processExpected(
  verdict: Verdict,
  turns: readonly Turn[],
  nowMs: number,
  calendar: SiteCalendar,
): Expected {
  const run = runOf(verdict);
  const time = timeExpected(verdict, run, nowMs, calendar);
  const turned = turnsExpected(verdict, run, turns, nowMs, calendar);
  return [time, turned, ...conditionsExpected(verdict, nowMs)].reduce(bothOf);
}

/** A mix is as it was built; everything else may still be shown, and nothing tells when. */
function conditionsExpected({ conditions }: Verdict, nowMs: number): Expected[] {
  return conditions
    .filter(({ state }) => state !== 'met')
    .map(({ key, state, text }) =>
      key === 'carbon-to-nitrogen' && state === 'unmet'
        ? never(`Waiting does not change the mix. ${text}`)
        : {
            earliestMs: nowMs,
            latestMs: null,
            assumptions: [`It has to be shown as well, and the end is open: ${text}`],
          },
    );
}
