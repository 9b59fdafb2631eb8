import { Injectable } from '@nestjs/common';
import type { Actor } from '../http/access/actor.js';
import { Clock } from '../http/clock.js';
import { idOr } from '../http/dto/id.js';
import type { Page, PageQuery } from '../http/dto/paging.js';
import { happenedSince } from '../http/dto/time.js';
import { type Fault, Problem } from '../http/problems/catalogue.js';
import { logPage, type NewEntry, recordOnce, voidOnce } from '../http/writes/batch-log.js';
import { bodyDigest, type Recorded } from '../http/writes/replay.js';
import { Work } from '../http/writes/work.js';
import { BatchesService, type BatchNow } from '../batches/batches.service.js';
import { ProcessRulesService } from '../sites/process-rules.service.js';
import { SiteFactsService } from '../sites/site-facts.service.js';
import { appliedRule, ruleCodeOf } from './applied-rule.js';
import { warningsOf } from './check-warnings.js';
import type { CheckDto, CheckEntered, CheckWarningDto, NewCheckDto } from './checks.dto.js';
import { ChecksRecords } from './checks.records.js';
import { ambientOf, type Reading, readingsOf, requireOneUnit } from './readings.js';
import { checkView } from './views.js';

@Injectable()
export class ChecksService {
  constructor(
    private readonly work: Work,
    private readonly clock: Clock,
    private readonly checks: ChecksRecords,
    private readonly batches: BatchesService,
    private readonly sites: SiteFactsService,
    private readonly rules: ProcessRulesService,
  ) {}

  list(batchId: string, query: PageQuery): Promise<Page<CheckDto>> {
    return logPage(this.checks, batchId, query, checkView);
  }

  async record(actor: Actor, batchId: string, dto: NewCheckDto): Promise<Recorded<CheckDto>> {
    const key = { id: idOr(dto.id), batchId, bodySha256: bodyDigest(dto) };
    const { replayed, body } = await recordOnce(this.work, actor, this.checks, key, () =>
      this.entryOf(key.id, batchId, dto),
    );
    return { replayed, body: checkView(body) };
  }

  async void(actor: Actor, batchId: string, id: string, reason: string): Promise<CheckDto> {
    const { siteId } = await this.batches.find(batchId);
    return checkView(await voidOnce(this.work, actor, this.checks, { id, batchId, siteId, reason }));
  }

  private async entryOf(id: string, batchId: string, dto: NewCheckDto): Promise<NewEntry> {
    const batch = await this.batches.find(batchId);
    const occurredAt = happenedSince(
      dto.occurredAt,
      this.clock.nowMs(),
      batch.occurredAt,
      'the batch was begun',
    );
    requireOneUnit(dto);
    const readings = readingsOf(dto);
    const ambientDeciC = ambientOf(dto);
    await this.requireThermometers(batch.siteId, readings);
    const own = {
      ...moistureOf(dto),
      odour: dto.odour ?? null,
      oxygenPercent: dto.oxygen ?? null,
      ambientDeciC,
      signs: dto.signs ? [...new Set(dto.signs)] : null,
      texture: dto.texture ?? null,
      inputsVisible: dto.inputsVisible ?? null,
      note: dto.note ?? null,
      entered: JSON.stringify(enteredOf(dto)),
      warnings: JSON.stringify(await this.warningsOf(batch, readings, dto)),
    };
    const after: NewEntry['after'] = (write) => this.checks.insertReadings(write, id, readings);
    return { siteId: batch.siteId, occurredAt, own, after };
  }

  private async requireThermometers(siteId: string, readings: readonly Reading[]): Promise<void> {
    const named = readings.flatMap(({ instrumentId }) => instrumentId ?? []);
    const known = new Set(await this.sites.thermometers(siteId, named));
    const faults = readings.flatMap(({ instrumentId }, index): Fault[] =>
      instrumentId === null || known.has(instrumentId)
        ? []
        : [{ pointer: `/readings/${index}/instrumentId`, detail: 'is no thermometer of this yard' }],
    );
    if (faults.length > 0) throw new Problem('invalid', undefined, faults);
  }

  private async warningsOf(
    batch: BatchNow,
    readings: readonly Reading[],
    typed: NewCheckDto,
  ): Promise<CheckWarningDto[]> {
    const permit = await this.sites.permitAt(batch.siteId, batch.occurredAt.getTime());
    const code = ruleCodeOf(batch, permit);
    const rule = code === null ? undefined : await this.rules.find(code, batch.recordedAt);
    return warningsOf(readings, typed.readings, rule ? appliedRule(rule, permit).rule : null);
  }
}

function moistureOf({ moisture }: NewCheckDto) {
  return typeof moisture === 'object'
    ? { moisture: null, moisturePercent: moisture.percent }
    : { moisture: moisture ?? null, moisturePercent: null };
}

function enteredOf({ readings, ambient, moisture, oxygen }: NewCheckDto): CheckEntered {
  return {
    readings: readings.map(({ depth, temperature }) => ({ ...(depth ? { depth } : {}), temperature })),
    ...(ambient ? { ambient } : {}),
    ...(moisture === undefined ? {} : { moisture }),
    ...(oxygen === undefined ? {} : { oxygen }),
  };
}
