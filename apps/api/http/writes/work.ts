import { Injectable } from '@nestjs/common';
import { Database, type Sql, type Tx } from '#libs/database';
import type { Actor } from '../access/actor.js';
import { type AuditedStatement, type AuditLine, writeAudit } from './audit.records.js';

/** A write of whomever: a person's, or a device's. */
export interface AnyWrite {
  readonly sql: Sql;
  /** Notes the audit line, which is written with the rest or not at all. */
  audit(line: AuditLine): void;
}

/** A write under way: the one thing a records method needs to take part in its transaction. */
export interface SqlWrite extends AnyWrite {
  readonly actor: Actor;
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

  /** The same of one moment: what is read in it does not change while it goes on. See `Database.writeSnapshot`. */
  writeSnapshot<T>(actor: Actor, work: (write: SqlWrite) => Promise<T>): Promise<T> {
    return this.database.writeSnapshot((sql) => this.audited(actor, sql, work));
  }

  /** A write of a device. Nobody is there to be named, so its lines tell of the device itself. */
  writeByDevice<T>(work: (write: AnyWrite) => Promise<T>): Promise<T> {
    return this.database.writeSql((sql) => noted(sql, null, (audit) => work({ sql, audit })));
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

  private audited<T>(actor: Actor, sql: Sql, work: (write: SqlWrite) => Promise<T>): Promise<T> {
    return noted(sql, actor.personId, (audit) => work({ sql, actor, audit }));
  }
}

async function noted<T>(
  sql: Sql,
  personId: string | null,
  work: (audit: AnyWrite['audit']) => Promise<T>,
): Promise<T> {
  const lines: AuditLine[] = [];
  const result = await work((line) => void lines.push(line));
  if (lines.length === 0) throw new Error('a write without its audit line');
  await writeAudit(sql, personId, lines);
  return result;
}
