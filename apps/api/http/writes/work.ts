import { Injectable } from '@nestjs/common';
import { Database, type Sql, type Tx } from '#libs/database';
import type { Actor } from '../access/actor.js';
import { type AuditedStatement, type AuditLine, writeAudit } from './audit.records.js';

/** A write under way: the one thing a records method needs to take part in its transaction. */
export interface SqlWrite {
  readonly sql: Sql;
  readonly actor: Actor;
  /** Notes the audit line, which is written with the rest or not at all. */
  audit(line: AuditLine): void;
}

export interface Write extends SqlWrite {
  readonly prisma: Tx['prisma'];
}

/**
 * One write request is one transaction, its audit lines inside. A write that notes no line is a mistake of ours
 * and is rolled back.
 */
@Injectable()
export class Work {
  constructor(private readonly database: Database) {}

  write<T>(actor: Actor, work: (write: Write) => Promise<T>): Promise<T> {
    return this.database.write(({ prisma, sql }) =>
      this.audited(actor, sql, (write) => work({ ...write, prisma })),
    );
  }

  /** The same without Prisma, for hot paths. */
  writeSql<T>(actor: Actor, work: (write: SqlWrite) => Promise<T>): Promise<T> {
    return this.database.writeSql((sql) => this.audited(actor, sql, work));
  }

  /**
   * One statement and nothing else, without so much as a BEGIN: for what is entered with people waiting. Its audit
   * lines are part of the statement itself, so they can be neither forgotten nor parted from it.
   */
  once<Row extends object>(
    actor: Actor,
    statement: AuditedStatement<Row>,
    values: readonly unknown[],
  ): Promise<Row[]> {
    return statement.run(this.database.sql, actor.personId, values);
  }

  private async audited<T>(actor: Actor, sql: Sql, work: (write: SqlWrite) => Promise<T>): Promise<T> {
    const lines: AuditLine[] = [];
    const result = await work({ sql, actor, audit: (line) => void lines.push(line) });
    if (lines.length === 0) throw new Error('a write without its audit line');
    await writeAudit(sql, actor.personId, lines);
    return result;
  }
}
