import { Injectable } from '@nestjs/common';
import type { Actor } from '../http/access/actor.js';
import { Clock } from '../http/clock.js';
import { idOr } from '../http/dto/id.js';
import { keyOf, type Page, type PageQuery, pageOf } from '../http/dto/paging.js';
import { happenedAt, instantMs } from '../http/dto/time.js';
import { Problem } from '../http/problems/catalogue.js';
import type { Recorded } from '../http/writes/replay.js';
import { Work } from '../http/writes/work.js';
import { InstrumentsService } from './instruments.service.js';
import type { NewVerificationDto, VerificationDto } from './verifications.dto.js';
import { type NewVerification, type VerificationRow, VerificationsRecords } from './verifications.records.js';

function verificationView(row: VerificationRow): VerificationDto {
  const { occurredAt, recordedAt } = row;
  return { ...row, occurredAt: occurredAt.toISOString(), recordedAt: recordedAt.toISOString() };
}

/** Ends a write that found its id taken, so that nothing of it is kept. */
class TakenId extends Error {}

@Injectable()
export class VerificationsService {
  constructor(
    private readonly work: Work,
    private readonly clock: Clock,
    private readonly verifications: VerificationsRecords,
    private readonly instruments: InstrumentsService,
  ) {}

  /** The log of an instrument, newest first. */
  async list(instrumentId: string, query: PageQuery): Promise<Page<VerificationDto>> {
    const key = keyOf(query.cursor, 'instant', 'id');
    const after = key && { occurredAt: new Date(instantMs(String(key[0]), '/cursor')), id: String(key[1]) };
    const rows = await this.verifications.page(instrumentId, query.limit, after);
    return pageOf(rows, query.limit, (row) => [row.occurredAt.toISOString(), row.id], verificationView);
  }

  async record(
    actor: Actor,
    instrumentId: string,
    dto: NewVerificationDto,
  ): Promise<Recorded<VerificationDto>> {
    const { siteId } = await this.instruments.get(instrumentId);
    const { passed, reference, note = null } = dto;
    const occurredAt = happenedAt(dto.occurredAt, this.clock.nowMs());
    const row = { id: idOr(dto.id), instrumentId, occurredAt, passed, reference, note };
    const replayed = !(await this.inserted(actor, siteId, row));
    const kept = await this.verifications.find(row.id);
    if (!kept) throw new Error('a verification was neither inserted nor found');
    // Without a time of its own the same body means the moment at which it first came.
    const sent = dto.occurredAt === undefined ? { ...row, occurredAt: kept.occurredAt } : row;
    if (replayed && !sameEntry(kept, sent)) throw new Problem('other-body');
    return { replayed, body: verificationView(kept) };
  }

  private async inserted(actor: Actor, siteId: string, row: NewVerification): Promise<boolean> {
    try {
      await this.work.writeSql(actor, async (write) => {
        if (!(await this.verifications.insert(write, row))) throw new TakenId();
        write.audit({
          action: 'instrument.verified',
          subjectKind: 'instrument',
          subjectId: row.instrumentId,
          siteId,
          detail: { verificationId: row.id, passed: row.passed },
        });
      });
      return true;
    } catch (error) {
      if (error instanceof TakenId) return false;
      throw error;
    }
  }
}

function sameEntry(kept: VerificationRow, sent: NewVerification): boolean {
  return (
    kept.instrumentId === sent.instrumentId &&
    kept.occurredAt.getTime() === sent.occurredAt.getTime() &&
    kept.passed === sent.passed &&
    kept.reference === sent.reference &&
    kept.note === sent.note
  );
}
