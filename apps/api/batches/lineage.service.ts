import { Injectable } from '@nestjs/common';
import { kgOf } from '#libs/quantities';
import type { LineageDto, BatchLinkDto } from './accounts.dto.js';
import { LineageRecords, type BatchLink } from './lineage.records.js';

/** Overs of overs of overs: further than this next to nothing of a batch is left in another. */
const MOST_STEPS = 50;

@Injectable()
export class LineageService {
  constructor(private readonly records: LineageRecords) {}

  /** Which batches gave overs to this one or were merged into it, and which had its own, step by step. */
  async lineage(batchId: string): Promise<LineageDto> {
    const from = await this.records.before(batchId, MOST_STEPS);
    const to = await this.records.after(batchId, MOST_STEPS);
    return { from: from.map(view), to: to.map(view) };
  }
}

function view(link: BatchLink): BatchLinkDto {
  return {
    kind: link.kind,
    steps: link.steps,
    giver: { id: link.giverId, code: link.giverCode },
    taker: { id: link.takerId, code: link.takerCode },
    massKg: kgOf(link.massG),
    firstAt: link.firstAt.toISOString(),
    lastAt: link.lastAt.toISOString(),
  };
}
