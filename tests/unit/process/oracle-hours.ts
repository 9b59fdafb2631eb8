import type { ProcessRule, RuleReading } from '#libs/process';
import { minuteMs, sayings, type Notebook, type Said } from './oracle-checks.js';
import { asMixed, clockStart, type OracleVerdict } from './oracle-terms.js';
import { Tally, type Box } from './oracle-tally.js';

interface Sheet {
  readonly said: readonly (Said | undefined)[];
  readonly boxes: readonly Box[];
  /** Of each box, the coldest that was read from the last check that held to the next one that holds, both included. */
  readonly deciC: readonly number[];
  readonly turns: ReadonlySet<number>;
  /** Minutes at which water was measured as the rule asks. */
  readonly wet: ReadonlySet<number>;
}

/**
 * A rule that counts hours as a clerk would work it out on squared paper, a box a minute, with none of the
 * evaluator's code: colour each box, walk along the boxes with a tally, and note the first minute at which everything
 * asked for is there. For facts on whole minutes.
 */
export function oracleByHours(
  rule: ProcessRule,
  notebook: Notebook,
  nowMs: number,
  reading: RuleReading,
): OracleVerdict {
  const start = clockStart(notebook, nowMs);
  if (start.zeroMs === null) return { creditedMinutes: 0, turns: 0, metAtMs: start.inheritedMs };
  const { zeroMs } = start;
  const sheet = draw(rule, notebook, zeroMs, nowMs);
  const tally = new Tally(rule, reading, {
    mixed: asMixed(rule, notebook),
    foundDry: (notebook.moistures ?? []).some(
      ({ occurredAtMs, percent }) =>
        occurredAtMs >= zeroMs && occurredAtMs <= nowMs && percent < (rule.moisture?.leastPercent ?? 0),
    ),
  });
  walk(sheet, rule, reading, tally);
  const { credited, turns } = tally.standing();
  return {
    creditedMinutes: credited,
    turns,
    metAtMs: tally.metAt === null ? null : zeroMs + tally.metAt * minuteMs,
  };
}

function draw(rule: ProcessRule, notebook: Notebook, zeroMs: number, nowMs: number): Sheet {
  const length = (nowMs - zeroMs) / minuteMs;
  const said = new Array<Said | undefined>(length + 1);
  for (const [atMs, one] of sayings(rule, notebook, zeroMs, nowMs)) said[(atMs - zeroMs) / minuteMs] = one;
  const minutes = (events: readonly { readonly occurredAtMs: number }[]) =>
    new Set(events.map(({ occurredAtMs }) => (occurredAtMs - zeroMs) / minuteMs));
  const turns = minutes(notebook.turns);
  const least = rule.moisture?.leastPercent ?? -Infinity;
  for (const minute of minutes(notebook.moistures?.filter(({ percent }) => percent < least) ?? [])) {
    if (minute >= 0 && minute <= length) said[minute] = tooDry(said[minute]);
  }
  const wet = minutes(
    notebook.moistures?.filter(({ percent }) => percent >= (rule.moisture?.leastPercent ?? Infinity)) ?? [],
  );
  return { said, turns, wet, ...colour(said, length, longestGapMinutes(rule)) };
}

/** A measure of too little water breaks what runs, as a cold check does. */
function tooDry(said: Said | undefined): Said {
  return { word: 'broke', enough: said?.enough ?? false, lowDeciC: said?.lowDeciC ?? Infinity };
}

/** Colours the boxes between each check that says something and the next one. */
function colour(said: Sheet['said'], length: number, longestGap: number): Pick<Sheet, 'boxes' | 'deciC'> {
  const boxes = new Array<Box>(length).fill('cleft');
  const deciC = new Array<number>(length).fill(-Infinity);
  let left: number | null = null;
  let doubtful = false;
  let held: number | null = null;
  let coldest = Infinity;
  for (let minute = 0; minute <= length; minute += 1) {
    const here = said[minute];
    if (here === undefined) continue;
    coldest = Math.min(coldest, here.lowDeciC);
    if (!counts(here)) {
      doubtful ||= here.word === 'excused';
      continue;
    }
    const before = left === null ? undefined : said[left];
    if (left !== null && before !== undefined && minute - left <= longestGap) {
      const words = [before.word, here.word];
      const hot = words.every((word) => word === 'held') && !doubtful;
      if (!words.includes('broke')) boxes.fill(hot ? 'hot' : 'bridged', left, minute);
    }
    if (here.word === 'held') {
      if (held !== null && !boxes.slice(held, minute).includes('cleft')) deciC.fill(coldest, held, minute);
      [held, coldest] = [minute, here.lowDeciC];
    }
    [left, doubtful] = [minute, false];
  }
  return { boxes, deciC };
}

/** Walks along the boxes to the end, or to the check that ends the run in which the rule was met. */
function walk(sheet: Sheet, rule: ProcessRule, reading: RuleReading, tally: Tally): void {
  const { said, boxes, deciC, turns, wet } = sheet;
  const betweenHeld = betweenHotChecks(sheet, true);
  const turnCounts =
    rule.turns?.hotHoursBefore == null ? betweenHotChecks(sheet, false) : afterHotHours(sheet, rule);
  for (let minute = 0; minute <= boxes.length; minute += 1) {
    const box = boxes[minute];
    if (endsWhatRan(said[minute], boxes[minute - 1])) {
      if (tally.metAt !== null) break;
      if (reading === 'consecutive') tally.tearOff();
    }
    if (turns.has(minute) && turnCounts(minute, tally.lastTurn)) tally.turn(minute);
    if (wet.has(minute) && betweenHeld(minute)) tally.measured = true;
    if (wet.has(minute) && (box === 'hot' || boxes[minute - 1] === 'hot')) tally.water();
    tally.look(minute);
    tally.pass(box, deciC[minute] ?? NaN);
  }
}

/** A check that says how it stands, after time that nothing covers. */
function endsWhatRan(said: Said | undefined, before: Box | undefined): boolean {
  return said !== undefined && counts(said) && (before === undefined || before === 'cleft');
}

/** Whether a check says how the batch stands. One with too few probes does so only where it breaks. */
function counts({ word, enough }: Said): boolean {
  return word === 'held' || word === 'broke' || (word === 'excused' && enough);
}

/**
 * Whether checks that held lie on both sides of a turn, or at it, with coloured boxes all the way to it. Unless it
 * may be cold, no check before it found the batch so since.
 */
function betweenHotChecks({ said, boxes }: Sheet, mayBeCold: boolean): (minute: number) => boolean {
  const reached = (minute: number, step: 1 | -1) => {
    for (let at = minute; at >= 0 && at <= boxes.length; at += step) {
      if (said[at]?.word === 'held') return true;
      if (!mayBeCold && step === -1 && at < minute && said[at]?.word === 'excused') return false;
      if (boxes[step === 1 ? at : at - 1] === 'cleft') return false;
    }
    return false;
  };
  return (minute) => reached(minute, 1) && reached(minute, -1);
}

/** Whether the last check before a turn ends hot boxes enough, none of them older than the turn counted before it. */
function afterHotHours({ said, boxes }: Sheet, rule: ProcessRule): (minute: number, last: number) => boolean {
  const longestGap = longestGapMinutes(rule);
  const needed = (rule.turns?.hotHoursBefore ?? 0) * 60;
  const says = (minute: number) => (said[minute]?.word ?? 'nothing') !== 'nothing';
  return (minute, last) => {
    let check = minute;
    while (check >= 0 && !says(check)) check -= 1;
    if (said[check]?.word !== 'held' || minute - check > longestGap) return false;
    let from = check;
    while (from > Math.max(0, last) && boxes[from - 1] === 'hot') from -= 1;
    return check - from >= needed;
  };
}

/** Two checks can show no more than all the time that is asked for. */
function longestGapMinutes({ longestGapHours, duration }: ProcessRule): number {
  const hours = 'hours' in duration ? duration.hours : duration.days * 24;
  return Math.min(longestGapHours ?? 36, hours) * 60;
}
