import { Injectable } from '@nestjs/common';
import { kgOf } from '#libs/quantities';
import type { LineageDto, OversLinkDto } from './accounts.dto.js';
import { LineageRecords, type OversLink } from './lineage.records.js';

/** Overs of overs of overs: further than this nothing of a batch is left in another. */
const MOST_STEPS = 20;

@Injectable()
export class LineageService {
  constructor(private readonly records: LineageRecords) {}

  /** Which batches gave overs to this one, and which had overs of it, step by step. */
  async lineage(batchId: string): Promise<LineageDto> {
    const from = await this.records.before(batchId, MOST_STEPS);
    const to = await this.records.after(batchId, MOST_STEPS);
    return { from: from.map(view), to: to.map(view) };
  }
}

function view(link: OversLink): OversLinkDto {
  return {
    steps: link.steps,
    giver: { id: link.giverId, code: link.giverCode },
    taker: { id: link.takerId, code: link.takerCode },
    massKg: kgOf(link.massG),
    firstAt: link.firstAt.toISOString(),
    lastAt: link.lastAt.toISOString(),
  };
}
