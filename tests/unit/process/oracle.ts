import type { BatchFacts, ProcessRule, RuleReading } from '#libs/process';

const minuteMs = 60_000;

/** What one minute of a batch shows: hot at both ends, bridged by a check that a turn excuses, or neither. */
type Minute = 'hot' | 'bridged' | 'off';
type Word = 'held' | 'excused' | 'broke' | 'nothing';

export interface OracleVerdict {
  creditedMinutes: number;
  metAtMs: number | null;
}

/**
 * The rule as a clerk would work it out on squared paper, a box a minute, with none of the evaluator's code: colour
 * each box, walk along the boxes with a counter, and note the first minute at which everything asked for is there.
 * For facts on whole minutes, rules that count hours and are judged by the coldest probe, at most one check a minute.
 */
export function oracle(
  rule: ProcessRule,
  facts: BatchFacts,
  nowMs: number,
  reading: RuleReading,
): OracleVerdict {
  const zeroMs = Math.max(...facts.rawAdditions.map((raw) => raw.occurredAtMs).filter((ms) => ms <= nowMs));
  const minuteOf = (ms: number) => (ms - zeroMs) / minuteMs;
  const length = minuteOf(nowMs);
  const turns = new Set(
    facts.turns
      .map((turn) => minuteOf(turn.occurredAtMs))
      .filter((minute) => minute >= 0 && minute <= length),
  );
  const words = wordsByMinute(rule, facts, minuteOf, length, turns);
  const minutes = colour(words, length, (rule.longestGapHours ?? 36) * 60);
  return walk(words, minutes, turns, rule, reading, (minute) => zeroMs + minute * minuteMs);
}

interface Said {
  word: Word;
  enough: boolean;
}

type Words = (Said | undefined)[];

function wordsByMinute(
  rule: ProcessRule,
  facts: BatchFacts,
  minuteOf: (ms: number) => number,
  length: number,
  turns: Set<number>,
): Words {
  const limit = rule.upperLimitDeciC ?? Infinity;
  const words: Words = new Array<Said | undefined>(length + 1);
  for (const { occurredAtMs, readings } of facts.checks) {
    const minute = minuteOf(occurredAtMs);
    if (minute < 0 || minute > length) continue;
    const temperatures = readings.map((each) => each.temperatureDeciC);
    const enough = temperatures.length >= rule.minimumProbes;
    const graceMinutes = (rule.graceAfterTurnHours ?? -1) * 60;
    const excused = [...turns].some((turn) => turn <= minute && minute - turn <= graceMinutes);
    let word: Word = enough ? 'held' : 'nothing';
    if (temperatures.some((each) => each < rule.thresholdDeciC)) word = excused ? 'excused' : 'broke';
    if (temperatures.some((each) => each > limit)) word = 'broke';
    words[minute] = { word, enough };
  }
  return words;
}

/** Colours the boxes between each check that says something and the next one. */
function colour(words: Words, length: number, longestGap: number): Minute[] {
  const minutes = new Array<Minute>(length).fill('off');
  let left: number | null = null;
  let doubtful = false;
  for (let minute = 0; minute <= length; minute += 1) {
    const said = words[minute];
    if (said === undefined || said.word === 'nothing') continue;
    if (said.word === 'excused' && !said.enough) {
      doubtful = true;
      continue;
    }
    if (left !== null && minute - left <= longestGap) {
      const ends = [words[left]?.word, said.word];
      const hot = ends.every((word) => word === 'held') && !doubtful;
      if (!ends.includes('broke')) minutes.fill(hot ? 'hot' : 'bridged', left, minute);
    }
    left = minute;
    doubtful = false;
  }
  return minutes;
}

function walk(
  words: Words,
  minutes: Minute[],
  turns: Set<number>,
  rule: ProcessRule,
  reading: RuleReading,
  msOf: (minute: number) => number,
): OracleVerdict {
  const needed = 'hours' in rule.duration ? rule.duration.hours * 60 : rule.duration.days * 1440;
  const neededTurns = rule.turns?.count ?? 0;
  const spacing = (rule.turns?.spacingHours ?? 0) * 60;
  const held = (minute: number) => words[minute]?.word === 'held';
  let inRun = false;
  let credited = 0;
  let counted = 0;
  let lastTurn = -Infinity;
  let metAt: number | null = null;
  for (let minute = 0; minute <= minutes.length; minute += 1) {
    if (!inRun && held(minute)) {
      inRun = true;
      if (reading === 'consecutive') [credited, counted, lastTurn] = [0, 0, -Infinity];
    }
    const spaced = minute > lastTurn && minute - lastTurn >= spacing;
    if (inRun && turns.has(minute) && spaced && laterHeld(minute, minutes, held)) {
      counted += 1;
      lastTurn = minute;
    }
    if (metAt === null && inRun && credited >= needed && counted >= neededTurns) metAt = minute;
    if (minute === minutes.length) break;
    if (minutes[minute] === 'hot') credited += 1;
    if (inRun && minutes[minute] === 'off') {
      if (metAt !== null) break;
      inRun = false;
      if (reading === 'consecutive' && brokenAfter(minute, words)) credited = 0;
    }
  }
  return { creditedMinutes: credited, metAtMs: metAt === null ? null : msOf(metAt) };
}

/** Whether a check still to come, with no uncoloured minute before it, shows the batch hot. */
function laterHeld(minute: number, minutes: Minute[], held: (minute: number) => boolean): boolean {
  for (let at = minute; at <= minutes.length; at += 1) {
    if (held(at)) return true;
    if (minutes[at] === 'off') return false;
  }
  return false;
}

/** Whether anything said later ends the run here, rather than the records merely stopping. */
function brokenAfter(minute: number, words: Words): boolean {
  return words
    .slice(minute)
    .some(
      (said, later) =>
        said?.word === 'broke' || (said?.enough === true && said.word !== 'nothing' && later > 0),
    );
}
