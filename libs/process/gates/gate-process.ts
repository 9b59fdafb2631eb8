import { hourMs, type SiteCalendar } from '../calendar.js';
import type { Gate, GateFacts } from './gate-facts.js';
import { type Finding, noPermit } from './gate-finding.js';
import type { Verdict } from '../verdict.js';
import { sayCount, sayHours, sayTemperature } from '../words.js';

/** Beyond these the text names only how many there are; the verdict has them all. */
const mostCautions = 3;

export function processRuleMet({ process, foundingPermit }: GateFacts, calendar: SiteCalendar): Finding {
  if (process === null) {
    if (foundingPermit === null) return noPermit('which process rule it asks for');
    const { reference } = foundingPermit;
    return { state: 'not-required', text: `Neither permit ${reference} nor the batch names a process rule.` };
  }
  const other = foundingPermit?.processRule;
  const beside =
    other && other !== process.rule.code
      ? [`Permit ${foundingPermit.reference} names another rule, ${other}.`]
      : [];
  return ruleMet(process, calendar, [], beside);
}

/** A gate for each rule that the permit asks for besides. */
export function furtherRulesMet({ process, furtherProcesses }: GateFacts, calendar: SiteCalendar): Gate[] {
  return furtherProcesses.map((verdict, index) => ({
    key: `process-rule:${verdict.rule.code}`,
    title: `Process rule: ${verdict.rule.code}`,
    ...ruleMet(verdict, calendar, [...(process ? [process] : []), ...furtherProcesses.slice(0, index)]),
  }));
}

/** `above` are the verdicts whose gates come before: what they told of the readings is not told again. */
function ruleMet(
  verdict: Verdict,
  calendar: SiteCalendar,
  above: readonly Verdict[],
  beside: readonly string[] = [],
): Finding {
  const { rule, status, metAtMs } = verdict;
  const name = `${rule.code} (${rule.citation})`;
  const withRest = (state: Finding['state'], text: string): Finding => ({
    state,
    text: [text, ...lackingOf(verdict), ...doubtsOf(verdict, above), ...beside].join(' '),
  });
  if (metAtMs !== null) {
    return withRest('met', `The recorded criteria of ${name} were met on ${calendar.say(metAtMs)}.`);
  }
  if (status === 'insufficient-data') {
    return withRest('unknown', `The checks do not show whether ${name} was met: ${creditOf(verdict)}.`);
  }
  return withRest('unmet', `${name} is not met: ${creditOf(verdict)}.`);
}

/** "212.5 hours of 360 hours and 3 of 5 turns are credited at 55 °C (131 °F) or more". */
function creditOf({ required, creditedHours, creditedDays, turnsCredited }: Verdict): string {
  const time =
    required.days === null
      ? `${sayHours(creditedHours * hourMs)} of ${required.hours ?? 0}`
      : `${sayCount(creditedDays, 'local day')} of ${required.days}`;
  const turns = required.turns === 0 ? '' : ` and ${turnsCredited} of ${sayCount(required.turns, 'turn')}`;
  const level = sayTemperature(required.thresholdDeciC);
  const hot = required.thresholdStrict ? `above ${level}` : `at ${level} or more`;
  return `${time}${turns} credited ${hot}`;
}

/** What the rule asks besides time and turns, where it is not there or not known. */
const lackingOf = ({ conditions }: Verdict): string[] =>
  conditions.filter(({ state }) => state !== 'met').map(({ text }) => text);

/** What speaks against the instruments whose readings were credited, and what was set aside. */
function doubtsOf({ cautions }: Verdict, above: readonly Verdict[]): string[] {
  const told = new Set(above.flatMap((verdict) => verdict.cautions.map(({ text }) => text)));
  const own = cautions.filter(({ text }) => !told.has(text));
  const again = cautions.length - own.length;
  const further = own.length - mostCautions;
  return [
    ...own.slice(0, mostCautions).map(({ text }) => text),
    ...(further > 0 ? [`${sayCount(further, 'more caution')}: see the verdict.`] : []),
    ...(again > 0 ? [`${sayCount(again, 'caution')}, as of the rule above: see the verdict.`] : []),
  ];
}
