import { Injectable } from '@nestjs/common';
import {
  type BatchStage,
  type GateSample,
  loggerVisits,
  type LoggerSeries,
  type ObservedCheck,
  type Outlook,
  outlookOf,
  type ReadinessFinding,
  readinessOf,
} from '#libs/process';
import { lastMergeOf, ProcessService } from '../monitoring/process.service.js';
import { GatesService, type Standing } from './gates.service.js';
import { holdInWords } from './holds.service.js';
import type { OutlookDto, ReadinessDto, ReadinessFindingDto } from './readiness.dto.js';

const NOTES = ['These are signs, and none of them is a gate: the permit and the local authority decide.'];
const NOT_YET = 'The batch is not curing, so nobody looks for signs of readiness yet.';
const NOT_BUILT = 'The batch is still being built: it has been neither heated nor cured, and is not ready.';

/** Whether a batch looks ready, and when its open gates can be met. It informs; the gates use none of it. */
@Injectable()
export class ReadinessService {
  constructor(
    private readonly gates: GatesService,
    private readonly process: ProcessService,
  ) {}

  async readiness(batchId: string): Promise<ReadinessDto> {
    const standing = await this.gates.standing(batchId);
    const { batch, asOfMs } = standing.facts;
    const since = batch.stages.find(({ stage }) => stage === 'curing')?.enteredAt.getTime() ?? null;
    const series = await this.process.hottest(standing.facts, since ?? asOfMs);
    const findings = since === null ? [] : await this.findings(standing, since, series);
    const isOpen = ['building', 'active', 'curing'].includes(batch.stage);
    return {
      asOf: new Date(asOfMs).toISOString(),
      findings: findings.map(findingView),
      outlook: isOpen ? outlookView(outlookOf(outlookFacts(standing, series), asOfMs)) : null,
      notes: [...(standing.hold ? [holdInWords(standing.hold)] : []), ...notesOf(batch.stage, since)],
    };
  }

  private async findings(
    { facts, permit, samples }: Standing,
    curingSinceMs: number,
    series: readonly LoggerSeries[],
  ): Promise<ReadinessFinding[]> {
    const { batch, site, process, asOfMs } = facts;
    const kept = await this.process.checks(batch.id);
    const checks = kept.map(({ occurredAt, ...check }): ObservedCheck => ({
      ...check,
      occurredAtMs: occurredAt.getTime(),
    }));
    const known = {
      ...{ timeZone: site.timeZone, curingSinceMs, turns: process.turns, samples: samples.map(sampleOf) },
      checks: [...checks, ...loggerVisits(series, asOfMs)],
      reheatDeciC: permit?.cureReheatDeciC ?? null,
      lastRawAtMs: lastOf(process.rawAdditions.at(-1)?.occurredAtMs, lastMergeOf(facts)?.atMs),
    };
    return readinessOf(known, asOfMs);
  }
}

/** A merge makes another mix of it as raw material does. */
function lastOf(...instants: (number | undefined)[]): number | null {
  const known = instants.filter((ms) => ms !== undefined);
  return known.length === 0 ? null : Math.max(...known);
}

function notesOf(stage: BatchStage, curingSinceMs: number | null): string[] {
  if (stage === 'building') return [NOT_BUILT, ...NOTES];
  return curingSinceMs === null ? [NOT_YET, ...NOTES] : NOTES;
}

function outlookFacts(
  { facts, process, further, cure, samples, gates }: Standing,
  series: readonly LoggerSeries[],
) {
  const looks = [
    ...facts.process.checks.map(({ occurredAtMs }) => occurredAtMs),
    ...series.flatMap(({ atMs }) => atMs.at(-1) ?? []),
  ].filter((ms) => ms <= facts.asOfMs);
  return {
    ...{ timeZone: facts.site.timeZone, stage: facts.batch.stage },
    processes: [
      ...(process ? [{ gate: 'process-rule', verdict: process.verdict }] : []),
      ...further.map(({ rule, verdict }) => ({ gate: `process-rule:${rule.code}`, verdict })),
    ],
    ...{ gates, cure, turns: facts.process.turns, samples: samples.map(sampleOf) },
    lastLookedAtMs: looks.length === 0 ? null : looks.reduce((a, b) => Math.max(a, b)),
  };
}

const sampleOf = ({ kind, outcome, results, occurredAt }: Standing['samples'][number]): GateSample => ({
  ...{ kind, outcome, results },
  occurredAtMs: occurredAt.getTime(),
});

const findingView = (finding: ReadinessFinding): ReadinessFindingDto => ({ ...finding });

function outlookView({ gates, notes, ...whole }: Outlook): OutlookDto {
  return {
    ...intervalOf(whole),
    gates: gates.map(({ gate, title, assumptions, ...expected }) => ({
      ...{ gate, title },
      ...intervalOf(expected),
      assumptions: [...assumptions],
    })),
    notes: [...notes],
  };
}

function intervalOf({ earliestMs, latestMs }: Pick<Outlook, 'earliestMs' | 'latestMs'>) {
  const iso = (ms: number | null) => (ms === null ? null : new Date(ms).toISOString());
  return { earliest: iso(earliestMs), latest: iso(latestMs) };
}
