import type { Broken, Incident } from '../reading/course.js';
import { item } from './evidence-item.js';
import type { Outcome } from '../outcome/outcome.js';
import type { Sentences } from './sentences.js';
import type { Evidence, Span } from '../verdict.js';

/** Of a day on which more than this happened, as at a probe that hovers about the threshold, the sum is told. */
export const mostADay = 24;

/** Something to be told of a course. */
type Happened =
  | { readonly what: 'start'; readonly span: Span; readonly first: boolean }
  | { readonly what: 'credit'; readonly span: Span }
  | { readonly what: 'incident'; readonly span: Incident; readonly broken: Broken | null };

/** What the checks since the last raw material show; nothing that happened after the rule was met. */
export function courseEvidence(outcome: Outcome, say: Sentences): Evidence[] {
  return byLocalDay(happenedIn(outcome, say.consecutive), say).flatMap((day) =>
    day.length <= mostADay ? day.map((each) => tell(each, say)) : tellTogether(day, say),
  );
}

function happenedIn(outcome: Outcome, consecutive: boolean): Happened[] {
  const horizonMs = outcome.metAtMs ?? Infinity;
  const early = ({ fromMs }: Span) => fromMs <= horizonMs;
  const broken = brokenIn(outcome);
  const happened: Happened[] = [];
  for (const [index, stretch] of outcome.stretches.entries()) {
    if (!early(stretch)) break;
    const span = { fromMs: stretch.fromMs, toMs: stretch.fromMs };
    if (index === 0 || consecutive) happened.push({ what: 'start', span, first: index === 0 });
    for (const credited of stretch.spans) happened.push({ what: 'credit', span: credited });
  }
  for (const [index, incident] of outcome.incidents.entries()) {
    if (early(incident))
      happened.push({ what: 'incident', span: incident, broken: broken.get(index) ?? null });
  }
  return happened;
}

/** Which stretch each incident broke. */
function brokenIn({ stretches, turns, standing }: Outcome): Map<number, Broken> {
  const counts = new Map<number, number>();
  for (const { stretch, number } of turns) {
    if (stretch !== null && number !== null) counts.set(stretch, (counts.get(stretch) ?? 0) + 1);
  }
  const broken = new Map<number, Broken>();
  for (const [index, stretch] of stretches.entries()) {
    if (stretch.endedBy === null) continue;
    const lost = !standing.includes(stretch);
    broken.set(stretch.endedBy, { stretch, turns: counts.get(index) ?? 0, lost });
  }
  return broken;
}

function byLocalDay(happened: readonly Happened[], { calendar }: Sentences): Happened[][] {
  const days = new Map<number, Happened[]>();
  for (const each of happened) {
    const { startMs } = calendar.dayOf(each.span.fromMs);
    const day = days.get(startMs);
    if (day === undefined) days.set(startMs, [each]);
    else day.push(each);
  }
  return [...days.values()];
}

function tell(happened: Happened, say: Sentences): Evidence {
  switch (happened.what) {
    case 'start':
      return happened.first
        ? item('clock-started', happened.span, say.started(happened.span.fromMs))
        : item('clock-restarted', happened.span, say.startedAnew(happened.span.fromMs));
    case 'credit':
      return item('credited', happened.span, say.credited(happened.span));
    case 'incident': {
      const { span, broken } = happened;
      return item(span.kind, span, say.incident(span) + say.broken(broken), span.checkId);
    }
  }
}

/** One item for each kind of thing that happened; the first check ever at the threshold is told by itself. */
function tellTogether(day: readonly Happened[], say: Sentences): Evidence[] {
  const told = day.filter((each) => each.what === 'start' && each.first).map((each) => tell(each, say));
  const starts = day.filter((each) => each.what === 'start' && !each.first).map(({ span }) => span);
  const credits = day.filter(({ what }) => what === 'credit').map(({ span }) => span);
  if (starts.length > 0) told.push(item('clock-restarted', around(starts), say.startedOften(starts)));
  if (credits.length > 0) told.push(item('credited', around(credits), say.creditedOften(credits)));
  const incidents = day.filter((each) => each.what === 'incident');
  for (const kind of new Set(incidents.map(({ span }) => span.kind))) {
    const alike = incidents.filter(({ span }) => span.kind === kind);
    const whole = alike.map(({ span }) => span).reduce(joined);
    const broken = alike.flatMap((each) => each.broken ?? []);
    told.push(item(kind, whole, say.incidents(whole, alike.length) + say.brokenOften(broken), whole.checkId));
  }
  return told;
}

function around(spans: readonly Span[]): Span {
  const toMs = spans.reduce((last, span) => Math.max(last, span.toMs), -Infinity);
  return { fromMs: spans[0]?.fromMs ?? toMs, toMs };
}

/** Two incidents of one kind as one, with the further extreme. */
function joined(a: Incident, b: Incident): Incident {
  const further = a.kind === 'above-limit' ? Math.max : Math.min;
  const extreme =
    a.extreme === null || b.extreme === null ? (a.extreme ?? b.extreme) : further(a.extreme, b.extreme);
  return {
    ...a,
    toMs: Math.max(a.toMs, b.toMs),
    checks: a.checks + b.checks,
    readings: a.readings + b.readings,
    loggers: [...new Set([...a.loggers, ...b.loggers])],
    extreme,
    checkId: extreme === a.extreme ? a.checkId : b.checkId,
  };
}
