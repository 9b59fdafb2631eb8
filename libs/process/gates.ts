import { formatMass } from '#libs/quantities';
import { hourMs, SiteCalendar } from './calendar.js';
import type { Gate, GateFacts, GateList } from './gate-facts.js';
import type { Verdict } from './verdict.js';
import { sayCount, sayHours, sayList, sayTemperature } from './words.js';

type Finding = Pick<Gate, 'state' | 'text'>;

/**
 * The gates of a release as of `nowMs` (epoch milliseconds). They speak of what is recorded and of what was typed in
 * from the permit; the permit and the local authority decide. A sample taken after `nowMs` is left out.
 */
export function gatesOf(recorded: GateFacts, nowMs: number): GateList {
  const calendar = new SiteCalendar(recorded.timeZone);
  const samples = recorded.samples.filter(({ occurredAtMs }) => occurredAtMs <= nowMs);
  const facts = { ...recorded, samples };
  const gates = [
    { key: 'permit-valid', title: 'Permit', ...permitValid(facts, calendar.isoDay(nowMs)) },
    { key: 'process-rule', title: 'Process rule', ...processRuleMet(facts, calendar) },
    { key: 'cure', title: 'Cure', ...cured(facts, calendar) },
    ...samplesPassed(facts, calendar),
    { key: 'inputs-allowed', title: 'Materials', ...inputsAllowed(facts) },
    { key: 'balance', title: 'Mass balance', ...balanced(facts) },
  ];
  const releasable = gates.every(({ state }) => state === 'met' || state === 'not-required');
  return { gates, releasable };
}

const noPermit = (unknown: string): Finding => ({
  state: 'unknown',
  text: `No permit is recorded for this site, so ${unknown} is not known.`,
});

function permitValid({ permit }: GateFacts, today: string): Finding {
  if (permit === null) return noPermit('whether one is in force');
  const { reference, validFrom, validTo } = permit;
  const valid = validFrom <= today && (validTo === null || validTo >= today);
  const period =
    validTo === null ? `from ${sayDate(validFrom)}` : `${sayDate(validFrom)} to ${sayDate(validTo)}`;
  return valid
    ? { state: 'met', text: `Permit ${reference} is in force on ${sayDate(today)} (valid ${period}).` }
    : { state: 'unmet', text: `Permit ${reference} is not in force on ${sayDate(today)} (valid ${period}).` };
}

function processRuleMet({ process, foundingPermit }: GateFacts, calendar: SiteCalendar): Finding {
  if (process === null) {
    if (foundingPermit === null) return noPermit('which process rule it asks for');
    const { reference } = foundingPermit;
    return { state: 'not-required', text: `Neither permit ${reference} nor the batch names a process rule.` };
  }
  const { rule, status, metAtMs } = process;
  const other = foundingPermit?.processRule;
  const beside =
    other && other !== rule.code ? ` Permit ${foundingPermit.reference} names another rule, ${other}.` : '';
  const name = `${rule.code} (${rule.citation})`;
  if (metAtMs !== null) {
    return {
      state: 'met',
      text: `The recorded criteria of ${name} were met on ${calendar.say(metAtMs)}.${beside}`,
    };
  }
  if (status === 'insufficient-data') {
    return {
      state: 'unknown',
      text: `The checks do not show whether ${name} was met: ${creditOf(process)}.${beside}`,
    };
  }
  return { state: 'unmet', text: `${name} is not met: ${creditOf(process)}.${beside}` };
}

/** "212.5 hours of 360 hours and 3 of 5 turns are credited at 55 °C (131 °F) or more". */
function creditOf({ required, creditedHours, creditedDays, turnsCredited }: Verdict): string {
  const time =
    required.days === null
      ? `${sayHours(creditedHours * hourMs)} of ${required.hours ?? 0}`
      : `${sayCount(creditedDays, 'local day')} of ${required.days}`;
  const turns = required.turns === 0 ? '' : ` and ${turnsCredited} of ${sayCount(required.turns, 'turn')}`;
  return `${time}${turns} credited at ${sayTemperature(required.thresholdDeciC)} or more`;
}

function cured({ permit, cure }: GateFacts, calendar: SiteCalendar): Finding {
  if (permit === null) return noPermit('what cure it asks for');
  if (cure === null) return { state: 'not-required', text: `Permit ${permit.reference} asks for no cure.` };
  const { startedAtMs, doneAtMs, daysDone, daysRequired } = cure;
  if (startedAtMs === null) {
    const asked = sayCount(daysRequired, 'day');
    return { state: 'unmet', text: `Curing has not begun. Permit ${permit.reference} asks for ${asked}.` };
  }
  const since = `since ${calendar.say(startedAtMs)}`;
  return doneAtMs === null
    ? { state: 'unmet', text: `Cured ${daysDone} of ${sayCount(daysRequired, 'day')} ${since}.` }
    : {
        state: 'met',
        text: `Cured ${sayCount(daysRequired, 'day')} ${since}, done on ${calendar.say(doneAtMs)}.`,
      };
}

function samplesPassed(facts: GateFacts, calendar: SiteCalendar): Gate[] {
  const { permit } = facts;
  const all = { key: 'samples', title: 'Samples' };
  if (permit === null) return [{ ...all, ...noPermit('which samples it asks for') }];
  if (permit.requiredSamples.length === 0) {
    return [{ ...all, state: 'not-required', text: `Permit ${permit.reference} asks for no samples.` }];
  }
  return permit.requiredSamples.map((kind) => ({
    key: `sample:${kind}`,
    title: `Sample: ${kind}`,
    ...samplePassed(kind, facts, calendar),
  }));
}

/** The last sample that was judged decides; one from before the last raw material was of another mix. */
function samplePassed(kind: string, facts: GateFacts, calendar: SiteCalendar): Finding {
  const { lastRawAtMs } = facts;
  const judged = facts.samples.filter((sample) => sample.kind === kind && sample.outcome !== 'information');
  const lastAtMs = Math.max(...judged.map(({ occurredAtMs }) => occurredAtMs));
  const last = judged.filter(({ occurredAtMs }) => occurredAtMs === lastAtMs);
  if (last.length === 0) return { state: 'unmet', text: `No ${kind} sample has been judged yet.` };
  const of = `The last ${kind} sample, of ${calendar.say(lastAtMs)},`;
  if (last.some(({ outcome }) => outcome === 'failed')) return { state: 'unmet', text: `${of} failed.` };
  if (lastRawAtMs !== null && lastAtMs < lastRawAtMs) {
    const text = `${of} passed, but raw material went in after it, on ${calendar.say(lastRawAtMs)}.`;
    return { state: 'unmet', text };
  }
  return { state: 'met', text: `${of} passed.` };
}

function inputsAllowed({ permit, foundingPermit, materials }: GateFacts): Finding {
  const governing = foundingPermit ?? permit;
  if (governing === null) return noPermit('which materials it allows');
  const { reference } = governing;
  if (materials.length === 0) return { state: 'unknown', text: 'No material is recorded as gone in.' };
  if (governing.materials.length === 0) {
    return { state: 'not-required', text: `Permit ${reference} lists no materials.` };
  }
  const foreign = materials.filter((code) => !governing.materials.includes(code));
  return foreign.length === 0
    ? { state: 'met', text: `Permit ${reference} lists everything that went in: ${sayList(materials)}.` }
    : { state: 'unmet', text: `Permit ${reference} does not list ${sayList(foreign)}, which went in.` };
}

function balanced({ inputG, outputG }: GateFacts): Finding {
  if (inputG === 0) return { state: 'unknown', text: 'No mass is recorded as gone in.' };
  const [into, out] = [inputG, outputG].map((massG) => `${formatMass(massG, 'kg', 3)} kg`);
  return outputG <= inputG
    ? { state: 'met', text: `${out ?? ''} came out of the ${into ?? ''} that went in.` }
    : { state: 'unmet', text: `More came out, ${out ?? ''}, than the ${into ?? ''} that went in.` };
}

/** "3 May 2026" of a day that is no instant: it is the same day in every zone. */
function sayDate(isoDay: string): string {
  return new SiteCalendar('UTC').sayDay(Date.parse(isoDay));
}
