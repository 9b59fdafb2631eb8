import { SiteCalendar, wholeMs } from '../calendar.js';
import type { Gate } from '../gates/gate-facts.js';
import { cureExpected } from './cure.js';
import { bothOf, never } from './expected.js';
import type { Expected, GateOutlook, Outlook, OutlookFacts } from './facts.js';
import { processExpected } from './process.js';

const notes = [
  'This is no promise: it goes on from what is recorded as though everything went on as now, and no gate uses it.',
  'A gate is met when its own records show it, whatever was expected here.',
];

const beingBuilt =
  'It is still being built, and has been neither heated nor cured: its time counts from when the last raw material has gone in.';
const nothingNamed =
  'Neither a process rule nor a cure nor a sample was named for it, so nothing can be told of when it is ready: the permit and the local authority decide.';

/**
 * When each gate that is still open can be shown to be met if readings go on as now, as of `nowMs` (epoch milliseconds),
 * and all of them together: when the last one is. No time is told of a batch that is being built, nor of one for which
 * nothing was named that takes time. Pure and total; the cost is that of the evidence, not of the readings.
 */
export function outlookOf(facts: OutlookFacts, nowMs: number): Outlook {
  const now = wholeMs(nowMs);
  const calendar = new SiteCalendar(facts.timeZone);
  const open = facts.gates.filter(({ state }) => state === 'unmet' || state === 'unknown');
  if (facts.stage === 'building') return noTime(open, beingBuilt);
  if (!facts.gates.some(takesTime)) return noTime(open, nothingNamed);
  const ofProcesses = new Map(
    facts.processes.map(({ gate, verdict }) => [gate, processExpected(verdict, facts.turns, now, calendar)]),
  );
  const processes = open.flatMap(({ key }) => ofProcesses.get(key) ?? []);
  const ready: Expected = { earliestMs: now, latestMs: now, assumptions: [] };
  const processEarliestMs = processes.reduce(bothOf, ready).earliestMs;
  const expectedOf = (gate: Gate): Expected => {
    if (gate.key === 'cure' && facts.cure !== null) {
      return cureExpected(facts.cure, processEarliestMs, facts.lastLookedAtMs, calendar);
    }
    if (gate.key.startsWith('sample:')) return sampleExpected(gate, facts, now, calendar);
    return ofProcesses.get(gate.key) ?? never(`Waiting does not bring this about. ${gate.text}`);
  };
  const gates = open.map((gate): GateOutlook => ({ gate: gate.key, title: gate.title, ...expectedOf(gate) }));
  const { earliestMs, latestMs } = gates.reduce<Expected>(bothOf, ready);
  return { gates, earliestMs, latestMs, notes };
}

/** The permit, what went in and the balance may all be in order of a heap that nobody ever heated. */
function takesTime({ key, state }: Gate): boolean {
  return state !== 'not-required' && /^(process-rule|cure|sample)(:|$)/.test(key);
}

function noTime(open: readonly Gate[], why: string): Outlook {
  const gates = open.map(({ key, title, text }) => ({ gate: key, title, ...never(text) }));
  return { gates, earliestMs: null, latestMs: null, notes: [why, ...notes] };
}

/** How long a laboratory takes is not known here. */
function sampleExpected(
  gate: Gate,
  { samples }: OutlookFacts,
  nowMs: number,
  calendar: SiteCalendar,
): Expected {
  const kind = gate.key.slice('sample:'.length);
  const out = samples.filter((sample) => sample.kind === kind && sample.outcome === 'information');
  const lastMs = out.reduce((last, { occurredAtMs }) => Math.max(last, occurredAtMs), -Infinity);
  const taken = Number.isFinite(lastMs)
    ? `One was taken on ${calendar.say(lastMs)} and is kept for information; what it opens is for the manager to say.`
    : 'None that could open it is recorded as taken.';
  const lead = 'How long the taking, the laboratory and the judging take is not known, so the end is open.';
  return { earliestMs: nowMs, latestMs: null, assumptions: [taken, lead] };
}
