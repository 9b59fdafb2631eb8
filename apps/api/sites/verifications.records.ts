import { Injectable } from '@nestjs/common';
import { Database, type Prisma } from '#libs/database';
import type { SqlWrite } from '../http/writes/work.js';

export type VerificationRow = Prisma.InstrumentVerificationModel;
export type NewVerification = Omit<VerificationRow, 'recordedAt' | 'recordedBy'>;

/** A place in the log, newest first. */
export interface VerificationKey {
  occurredAt: Date;
  id: string;
}

@Injectable()
export class VerificationsRecords {
  constructor(private readonly database: Database) {}

  async find(id: string): Promise<VerificationRow | null> {
    return this.database.prisma.instrumentVerification.findUnique({ where: { id } });
  }

  async page(instrumentId: string, limit: number, after: VerificationKey | null): Promise<VerificationRow[]> {
    return this.database.prisma.instrumentVerification.findMany({
      where: {
        instrumentId,
        ...(after
          ? {
              OR: [
                { occurredAt: { lt: after.occurredAt } },
                { occurredAt: after.occurredAt, id: { lt: after.id } },
              ],
            }
          : {}),
      },
      orderBy: [{ occurredAt: 'desc' }, { id: 'desc' }],
      take: limit + 1,
    });
  }

  /** False when something was recorded under that id already. */
  async insert({ sql, actor }: SqlWrite, row: NewVerification): Promise<boolean> {
    const rows = await sql.query(
      `INSERT INTO instrument_verification (id, instrument_id, occurred_at, passed, reference, note, recorded_by)
       VALUES ($1, $2, $3, $4, $5, $6, $7) ON CONFLICT (id) DO NOTHING RETURNING id`,
      [row.id, row.instrumentId, row.occurredAt, row.passed, row.reference, row.note, actor.personId],
    );
    return rows.length === 1;
  }
}
