import { formatMass } from '#libs/quantities';
import { SiteCalendar } from '../calendar.js';
import type { Gate, GateFacts, GateList } from './gate-facts.js';
import { type Finding, noPermit } from './gate-finding.js';
import { furtherRulesMet, processRuleMet } from './gate-process.js';
import { samplesPassed } from './gate-samples.js';
import { sayCount } from '../words.js';

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
    ...furtherRulesMet(facts, calendar),
    { key: 'cure', title: 'Cure', ...cured(facts, calendar) },
    ...samplesPassed(facts, calendar),
    { key: 'inputs-allowed', title: 'Materials', ...inputsAllowed(facts) },
    { key: 'balance', title: 'Mass balance', ...balanced(facts) },
    ...held(facts, calendar),
  ];
  const releasable = gates.every(({ state }) => state === 'met' || state === 'not-required');
  return { gates, releasable };
}

/** A gate only while a hold stands. */
function held({ hold }: GateFacts, calendar: SiteCalendar): Gate[] {
  if (hold === null) return [];
  const text = `On hold since ${calendar.say(hold.sinceMs)}. No reason overrides it; it is lifted first. Its reason: ${hold.reason}`;
  return [{ key: 'hold', title: 'Hold', state: 'unmet', text }];
}

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

function cured({ permit, cure }: GateFacts, calendar: SiteCalendar): Finding {
  if (permit === null) return noPermit('what cure it asks for');
  if (cure === null) return { state: 'not-required', text: `Permit ${permit.reference} asks for no cure.` };
  const { startedAtMs, doneAtMs, daysDone, daysRequired, notes } = cure;
  const hot = cure.evidence
    .filter(({ kind }) => kind === 'reheated' || kind === 'still-hot')
    .map(({ text }) => text);
  if (startedAtMs === null) {
    const asked = sayCount(daysRequired, 'day');
    return { state: 'unmet', text: `Curing has not begun. Permit ${permit.reference} asks for ${asked}.` };
  }
  const since = `since ${calendar.say(startedAtMs)}`;
  const [state, told] =
    doneAtMs === null
      ? (['unmet', `Cured ${daysDone} of ${sayCount(daysRequired, 'day')} ${since}.`] as const)
      : ([
          'met',
          `Cured ${sayCount(daysRequired, 'day')} ${since}, done on ${calendar.say(doneAtMs)}.`,
        ] as const);
  return { state, text: [told, ...hot.slice(-1), ...notes].join(' ') };
}

function inputsAllowed({ permit, foundingPermit, materials }: GateFacts): Finding {
  const governing = foundingPermit ?? permit;
  if (governing === null) return noPermit('which materials it allows');
  const { reference } = governing;
  if (materials.length === 0) return { state: 'unknown', text: 'No material is recorded as gone in.' };
  if (governing.materials.length === 0) {
    return { state: 'not-required', text: `Permit ${reference} lists no materials.` };
  }
  const foreign = materials.filter(({ code }) => !governing.materials.includes(code));
  return foreign.length === 0
    ? { state: 'met', text: `Permit ${reference} lists everything that went in: ${namesOf(materials)}.` }
    : {
        state: 'unmet',
        text: `Permit ${reference} does not list all that went in. Not listed: ${namesOf(foreign)}.`,
      };
}

/** Many a name has a comma in it. */
const namesOf = (materials: GateFacts['materials']): string => materials.map(({ name }) => name).join('; ');

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
