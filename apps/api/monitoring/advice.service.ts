import { Injectable } from '@nestjs/common';
import { type Advice, adviceOf, eachProbe, loggerVisits, type ObservedCheck } from '#libs/process';
import { dayMs, hourMs } from '#libs/quantities';
import { Clock } from '../http/clock.js';
import { BatchFlowsService } from '../batches/batch-flows.service.js';
import { BatchesService, type BatchNow } from '../batches/batches.service.js';
import { type MergeRow, MergesService } from '../batches/merges.service.js';
import { MixService } from '../mixing/mix.service.js';
import { LoggerSeriesService } from '../loggers/logger-series.service.js';
import { SiteFactsService } from '../sites/site-facts.service.js';
import type { AdviceDto, BatchAdviceDto } from './advice.dto.js';
import { adviceMix } from './advice-mix.js';
import { AdviceRecords } from './advice.records.js';
import { CautionsService } from './cautions.service.js';

/** Advice is on what goes on now; a month of a logger tells of a pile that was hot and has cooled. */
const LOGGER_DAYS = 30;
/** An alarm stands for a day from the end of the hour in which it was told. */
const ALARM_MS = dayMs + hourMs;

const NOTES = [
  'This is advice and no certainty: it knows what was written down, and the person at the pile sees more.',
  "The permit, the site's fire plan and the local authority come first.",
];
const WHILE_BUILT =
  'While a batch is being built, look at what it still needs: that is worked out from its mix and from what lies at the yard.';

@Injectable()
export class AdviceService {
  constructor(
    private readonly clock: Clock,
    private readonly batches: BatchesService,
    private readonly flows: BatchFlowsService,
    private readonly merges: MergesService,
    private readonly mixes: MixService,
    private readonly sites: SiteFactsService,
    private readonly loggers: LoggerSeriesService,
    private readonly records: AdviceRecords,
    private readonly cautions: CautionsService,
  ) {}

  async advice(batchId: string): Promise<BatchAdviceDto> {
    const nowMs = this.clock.nowMs();
    const batch = await this.batches.find(batchId);
    const [{ timeZone }, seen, logged, raw, merges, moves, mix] = await Promise.all([
      this.sites.site(batch.siteId),
      this.records.seenAndDone(batchId),
      this.logged(batchId, nowMs),
      this.flows.rawAdditions(batchId),
      this.merges.tree(batchId),
      this.flows.moves(batchId),
      this.mixes.mix(batchId),
    ]);
    const came = merges.filter((merge) => merge.batchId === batchId).map(cameIn);
    const rawAdditions = [...raw, ...came].sort((a, b) => a.occurredAtMs - b.occurredAtMs);
    const turns = [
      ...seen.turnsMs.map((occurredAtMs) => ({ occurredAtMs, kind: 'turn' as const })),
      ...moves.map(({ occurredAtMs }) => ({ occurredAtMs, kind: 'move' as const })),
    ];
    const checks = [...seen.checks, ...logged];
    const facts = { timeZone, rawAdditions, turns, checks, waterings: seen.waterings, mix: adviceMix(mix) };
    const alarms = await this.cautions.fireAlarms({ batchId, timeZone, asOfMs: nowMs }, nowMs - ALARM_MS);
    const advice = adviceOf({ ...facts, ...standingOf(batch), alarms }, nowMs);
    const notes = batch.stage === 'building' ? [...NOTES, WHILE_BUILT] : NOTES;
    return { asOf: new Date(nowMs).toISOString(), advice: advice.map(adviceView), notes };
  }

  private async logged(batchId: string, nowMs: number): Promise<ObservedCheck[]> {
    const asked = { fromMs: nowMs - LOGGER_DAYS * dayMs, throughMs: nowMs };
    return loggerVisits(await this.loggers.series(batchId, eachProbe, asked), nowMs);
  }
}

/** To whoever looks at its heat, what was merged in is new material, whatever it had met before. */
function cameIn({ occurredAt, fromBatchCode }: MergeRow) {
  return { occurredAtMs: occurredAt.getTime(), what: `batch ${fromBatchCode}` };
}

function standingOf({ stage, stages, method, occurredAt }: BatchNow) {
  const since = stages.findLast((entry) => entry.stage === stage)?.enteredAt ?? occurredAt;
  return { stage, method, stageSinceMs: since.getTime() };
}

function adviceView({ seen, causes, actions, ...advice }: Advice): AdviceDto {
  return {
    ...advice,
    seen: [...seen],
    causes: [...causes],
    actions: actions.map((action) => ({ ...action, cautions: [...action.cautions] })),
  };
}
