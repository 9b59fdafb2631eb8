import { createHash } from 'node:crypto';
import { Injectable } from '@nestjs/common';
import { canonicalJson } from '#libs/documents';
import {
  advanceProcess,
  type BatchFacts,
  beginProcess,
  concludeProcess,
  evaluateReadings,
  type ProcessRule,
  type ProcessState,
  type Readings,
  type RuleReading,
} from '#libs/process';
import { dayMs, hourMs } from '#libs/quantities';
import type { BatchSeries } from '../loggers/logger-series.service.js';
import type { SqlWrite } from '../http/writes/work.js';

type Sql = SqlWrite['sql'];

/** One batch, to be judged by one rule as of one instant. */
export interface Judging {
  batchId: string;
  rule: ProcessRule;
  reading: RuleReading;
  /** Without what loggers show. */
  facts: BatchFacts;
  series: BatchSeries;
  asOfMs: number;
}

/** How far a batch was read, under the one reading or under both, and a digest of all that was read up to then. */
interface Kept {
  states: ProcessState[];
  throughMs: number;
  facts: string;
}

/** What comes in a day late changes nothing that was read, and so costs nothing. */
const SLACK_MS = dayMs;
/** A logger that has been silent for longer is not waited for. */
const SILENT_MS = 14 * dayMs;
const MOST_KEPT = 200;

/**
 * Judges batches with loggers without reading them from the beginning each time: what was made of their record up to some
 * hour is kept in this process, and read on from there, for as long as everything recorded up to that hour is what it was.
 * It is a shortcut only: it ends with the process, and with it never outlives the code that made it.
 */
@Injectable()
export class ReadingOnService {
  private readonly kept = new Map<string, Kept>();

  async verdict(judging: Judging, sql?: Sql): Promise<Readings> {
    const { rule, reading, facts, series, asOfMs } = judging;
    const spans = await series.spans(sql);
    if (spans.length === 0) return evaluateReadings(rule, facts, asOfMs, reading);
    const key = digestOf({ batchId: judging.batchId, rule, reading, timeZone: facts.timeZone });
    const kept = this.earlier(key, asOfMs);
    const throughMs = nextStop(asOfMs, spans, kept?.throughMs ?? -Infinity);
    // Before anything is looked at: a reading that comes in between may be missed here, and is then found out next time.
    const digest = await digestThrough(judging, throughMs, sql);
    const before = await this.standing(kept, judging, sql);
    const shown = await series.under(rule, sql, before && before.throughMs + 1);
    const recorded = { ...facts, series: shown };
    const states = (before?.states ?? beginnings(judging)).map((state) =>
      advanceProcess(state, recorded, throughMs),
    );
    this.keep(key, { states, throughMs, facts: digest });
    const [verdict, other = null] = states.map((state) =>
      concludeProcess(advanceProcess(state, recorded, asOfMs), asOfMs),
    );
    if (!verdict) throw new Error('a rule without any reading');
    return { verdict, other };
  }

  private earlier(key: string, asOfMs: number): Kept | undefined {
    const kept = this.kept.get(key);
    return kept && kept.throughMs <= asOfMs ? kept : undefined;
  }

  /** What was kept, where nothing recorded up to its hour has changed since; a late entry, a void, another stay in a bay. */
  private async standing(kept: Kept | undefined, judging: Judging, sql?: Sql): Promise<Kept | undefined> {
    if (!kept) return undefined;
    const same = kept.facts === (await digestThrough(judging, kept.throughMs, sql));
    return same ? kept : undefined;
  }

  /** The one used longest ago goes when there are too many. */
  private keep(key: string, kept: Kept): void {
    this.kept.delete(key);
    this.kept.set(key, kept);
    const [oldest] = this.kept.keys();
    if (this.kept.size > MOST_KEPT && oldest !== undefined) this.kept.delete(oldest);
  }
}

/** Where a rule does not say how its time is read, the verdict is told under both readings. */
export function otherThan(reading: RuleReading): RuleReading {
  return reading === 'consecutive' ? 'cumulative' : 'consecutive';
}

function beginnings({ rule, reading, facts }: Judging): ProcessState[] {
  const readings = rule.continuity === 'unstated' ? [reading, otherThan(reading)] : [reading];
  return readings.map((one) => beginProcess(rule, facts.timeZone, one));
}

/** The last instant of a whole hour, a day before the logger that is furthest behind; never before the stop before it. */
function nextStop(
  asOfMs: number,
  spans: readonly { deviceId: string; lastMs: number }[],
  beforeMs: number,
): number {
  const lastMs = new Map<string, number>();
  for (const span of spans) {
    lastMs.set(span.deviceId, Math.max(span.lastMs, lastMs.get(span.deviceId) ?? -Infinity));
  }
  const newestMs = Math.min(asOfMs, Math.max(...lastMs.values()));
  const awaitedMs = [...lastMs.values()].filter((ms) => ms >= newestMs - SILENT_MS);
  const behindMs = Math.min(newestMs, ...awaitedMs) - SLACK_MS;
  return Math.max(Math.floor(behindMs / hourMs) * hourMs - 1, beforeMs);
}

/**
 * Everything recorded of a batch up to an instant. Readings are never changed or deleted, so where as many of each probe
 * lie in the same spans, they are the same.
 */
async function digestThrough({ facts, series }: Judging, throughMs: number, sql?: Sql): Promise<string> {
  const { rawAdditions, checks, turns, mergedFrom = [], moistures = [], carbonToNitrogen = null } = facts;
  const upTo = <T extends { readonly occurredAtMs: number }>(items: readonly T[]) =>
    items.filter(({ occurredAtMs }) => occurredAtMs <= throughMs);
  return digestOf({
    rawAdditions: upTo(rawAdditions),
    checks: upTo(checks),
    turns: upTo(turns),
    mergedFrom: upTo(mergedFrom),
    moistures: upTo(moistures),
    carbonToNitrogen,
    spans: await series.spans(sql, throughMs),
  });
}

const digestOf = (value: object): string => createHash('sha256').update(canonicalJson(value)).digest('hex');
