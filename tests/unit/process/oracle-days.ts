import type { ProcessRule, RuleReading } from '#libs/process';
import { minuteMs, sayings, type Notebook, type Said } from './oracle-checks.js';
import { clockStart } from './oracle-terms.js';

interface Day {
  readonly fromMs: number;
  readonly toMs: number;
}

interface Run {
  readonly fromMs: number;
  toMs: number;
  readonly days: Day[];
}

export interface DaysVerdict {
  days: number;
  hours: number;
  turns: number;
  metAtMs: number | null;
}

const nothing: DaysVerdict = { days: 0, hours: 0, turns: 0, metAtMs: null };

/** A rule that counts local days as a clerk with a wall calendar would work it out: a leaf a day, from one to the next. */
export function oracleByDays(
  rule: ProcessRule,
  notebook: Notebook,
  nowMs: number,
  reading: RuleReading,
): DaysVerdict {
  const { zeroMs, inheritedMs } = clockStart(notebook, nowMs);
  if (zeroMs === null) return { ...nothing, metAtMs: inheritedMs };
  const said = [...sayings(rule, notebook, zeroMs, nowMs)];
  const { runs, running } = runsIn(notebook, said, zeroMs, nowMs);
  const turns = [...new Set(notebook.turns.map(({ occurredAtMs }) => occurredAtMs))].sort((a, b) => a - b);
  const warm = turns.filter((atMs) => !followsExcuse(atMs, said));
  const sumOf = (some: readonly Run[]) => sum(rule, some, warm);
  if (reading === 'consecutive') {
    const each = runs.map((run) => sumOf([run]));
    return each.find(({ metAtMs }) => metAtMs !== null) ?? (running === null ? nothing : sumOf([running]));
  }
  const { metAtMs } = sumOf(runs);
  return { ...sumOf(runs.filter(({ fromMs }) => fromMs <= (metAtMs ?? Infinity))), metAtMs };
}

function runsIn(notebook: Notebook, said: readonly [number, Said][], zeroMs: number, nowMs: number) {
  const runs: Run[] = [];
  let running: Run | null = null;
  let missed = false;
  for (const day of localDays(notebook.timeZone, zeroMs, nowMs)) {
    const today = said.filter(([atMs]) => atMs >= day.fromMs && atMs < day.toMs);
    const shown = today.some(([, one]) => one.enough);
    if (shown && missed) running = null;
    missed = !shown;
    const failedAtMs = today.find(([, { word }]) => word === 'broke')?.[0] ?? Infinity;
    for (const [atMs] of heldBefore(failedAtMs, today)) {
      if (running === null) runs.push((running = { fromMs: atMs, toMs: atMs, days: [] }));
      running.toMs = atMs;
    }
    if (failedAtMs < Infinity) running = null;
    const good = shown && today.every(([, { word }]) => word === 'held' || word === 'nothing');
    if (good && day.fromMs >= zeroMs && day.toMs <= nowMs) running?.days.push(day);
  }
  return { runs, running };
}

/** Whether the batch was last seen cold, and that was put down to an earlier turn. */
function followsExcuse(turnMs: number, said: readonly [number, Said][]): boolean {
  if (said.some(([atMs, { word }]) => atMs === turnMs && word === 'held')) return false;
  const telling = said.filter(([atMs, { word }]) => atMs < turnMs && word !== 'nothing');
  return telling.at(-1)?.[1].word === 'excused';
}

function heldBefore(ms: number, said: readonly [number, Said][]): readonly [number, Said][] {
  return said.filter(([atMs, { word }]) => word === 'held' && atMs < ms);
}

function sum(rule: ProcessRule, runs: readonly Run[], turns: readonly number[]): DaysVerdict {
  const days = runs.flatMap((run) => run.days);
  const needed = 'days' in rule.duration ? rule.duration.days : NaN;
  const counted: number[] = [];
  for (const atMs of turns) {
    const inside = runs.some(({ fromMs, toMs }) => fromMs <= atMs && atMs <= toMs);
    const pauseHours = (atMs - (counted.at(-1) ?? -Infinity)) / minuteMs / 60;
    if (rule.turns !== null && inside && pauseHours >= rule.turns.spacingHours) counted.push(atMs);
  }
  const dayMs = days[needed - 1]?.toMs;
  const turnMs = rule.turns === null ? -Infinity : counted[rule.turns.count - 1];
  return {
    days: days.length,
    hours: days.reduce((hours, { fromMs, toMs }) => hours + (toMs - fromMs) / minuteMs / 60, 0),
    turns: counted.length,
    metAtMs: dayMs === undefined || turnMs === undefined ? null : Math.max(dayMs, turnMs),
  };
}

const formats = new Map<string, Intl.DateTimeFormat>();

/** The local days that touch a span, found by asking for the date at each quarter of an hour, where every zone changes its own. */
function localDays(timeZone: string, fromMs: number, toMs: number): Day[] {
  const format = formats.get(timeZone) ?? new Intl.DateTimeFormat('en', { timeZone, dateStyle: 'short' });
  formats.set(timeZone, format);
  const quarterMs = 15 * minuteMs;
  const leaves: number[] = [];
  let date = '';
  const startMs = Math.floor(fromMs / quarterMs) * quarterMs - 100 * quarterMs;
  for (let ms = startMs; ms <= toMs + 110 * quarterMs; ms += quarterMs) {
    const here = dateAt(format, timeZone, ms);
    if (date !== '' && here !== date) leaves.push(ms);
    date = here;
  }
  return leaves
    .map((leafMs, index) => ({ fromMs: leafMs, toMs: leaves[index + 1] ?? Infinity }))
    .filter((day) => day.toMs > fromMs && day.fromMs <= toMs);
}

const dates = new Map<string, string>();

function dateAt(format: Intl.DateTimeFormat, timeZone: string, ms: number): string {
  const key = `${timeZone} ${ms}`;
  const known = dates.get(key) ?? format.format(ms);
  dates.set(key, known);
  return known;
}
