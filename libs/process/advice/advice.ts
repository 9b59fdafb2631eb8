import { type ActionKey, actions, withoutTurning } from './actions.js';
import { type CauseKey, causes } from './causes.js';
import { type CautionKey, cautions } from './cautions.js';
import { type Evidence, evidenceOf } from './evidence.js';
import type { AdviceFacts } from './facts.js';
import { cooled, notChecked, notHeating } from './find-course.js';
import { dry, signsSeen, smell, wet } from './find-by-hand.js';
import { reheated, tooHot, unevenHeating } from './find-heat.js';
import { mixAsItIsBuilt } from './find-mix.js';
import { type Finding, urgencies } from './finding.js';
import { type AdviceKey, guide } from './guide.js';
import { Look } from './look.js';
import type { PracticeSource } from './sources.js';

/** A sentence and who says so. */
export interface Said<Key extends string> {
  readonly key: Key;
  readonly text: string;
  readonly source: PracticeSource;
}

export interface LikelyCause extends Said<CauseKey> {
  /** What in the records speaks for it; null where they are silent. */
  readonly seen: string | null;
}

export interface AdvisedAction extends Said<ActionKey> {
  /** Where somebody can be hurt, or a count undone. */
  readonly cautions: readonly Said<CautionKey>[];
}

/** What may be wrong with a batch and what a practitioner would try. It is never certain. */
export interface Advice extends Finding {
  readonly title: string;
  /** Those that the records speak for come first; those that they speak against are left out. */
  readonly causes: readonly LikelyCause[];
  /** In the order in which they are tried. */
  readonly actions: readonly AdvisedAction[];
}

const order = Object.keys(guide) as AdviceKey[];

/**
 * What to do now, the most urgent first; empty where nothing calls for it, or nothing is recorded. Pure and total: finite
 * numbers in, advice out. `nowMs` is in epoch milliseconds; later facts are left out. Where fire is in question nothing else
 * is advised, since other remedies would open the pile.
 */
export function adviceOf(facts: AdviceFacts, nowMs: number): Advice[] {
  const look = new Look(facts, nowMs);
  const evidence = evidenceOf(look);
  return findingsOf(look)
    .toSorted((a, b) => rank(a) - rank(b))
    .map((finding) => advise(finding, evidence, facts));
}

function findingsOf(look: Look): Finding[] {
  const { stage } = look.facts;
  if (stage === 'emptied' || stage === 'merged') return [];
  const heat = tooHot(look);
  if (heat?.key === 'fire-danger') return [heat];
  if (stage === 'released' || stage === 'condemned') return heat ? [heat] : [];
  const built = mixAsItIsBuilt(look);
  const found = [heat, notChecked(look), notHeating(look), cooled(look), reheated(look), unevenHeating(look)];
  return [...found, ...built, dry(look), wet(look), smell(look), ...signsSeen(look)].filter(
    (each) => each !== null,
  );
}

/** By urgency, then in the order of the guide. */
function rank({ key, urgency }: Finding): number {
  return urgencies.indexOf(urgency) * order.length + order.indexOf(key);
}

function advise(finding: Finding, evidence: Evidence, { method }: AdviceFacts): Advice {
  const { title, first, last, causes: keys, causesWait } = guide[finding.key];
  const likely = [...keys].filter((key) => evidence[key] !== false);
  const ordered = [
    ...likely.filter((key) => evidence[key] !== undefined),
    ...likely.filter((key) => evidence[key] === undefined),
  ];
  const remedies = causesWait ? [] : ordered.flatMap((key) => causes[key].actions);
  const turned = method === 'turned-windrow' || method === 'turned-bins';
  const done = [...first, ...remedies, ...last].map((key) => (turned ? key : (withoutTurning[key] ?? key)));
  return {
    ...finding,
    title,
    causes: ordered.map((key) => causeOf(key, evidence)),
    actions: [...new Set(done)].map(actionOf),
  };
}

function causeOf(key: CauseKey, evidence: Evidence): LikelyCause {
  const { text, source } = causes[key];
  return { key, text, source, seen: evidence[key] || null };
}

function actionOf(key: ActionKey): AdvisedAction {
  const { text, source, cautions: keys } = actions[key];
  return { key, text, source, cautions: keys.map((each) => ({ key: each, ...cautions[each] })) };
}
