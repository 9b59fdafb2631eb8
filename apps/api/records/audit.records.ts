import { Injectable } from '@nestjs/common';
import { Database, type Sql } from '#libs/database';

export interface AuditRow {
  seq: number;
  at: Date;
  personId: string | null;
  personName: string | null;
  action: string;
  subjectKind: string;
  subjectId: string | null;
  siteId: string | null;
  detail: Record<string, unknown>;
}

export interface AuditFilter {
  subjectId: string | null;
  siteId: string | null;
  personId: string | null;
  action: string | null;
  from: Date | null;
  to: Date | null;
}

export interface AuditSealRow {
  number: number;
  fromSeq: number;
  toSeq: number;
  events: number;
  seal: string;
  sealedAt: Date;
}

/** A seal beside what is found now: null in `previous…` where the seal before it is not there. */
export interface ChainLink extends AuditSealRow {
  previousToSeq: number | null;
  eventsFound: number;
  sealFound: string;
}

/** So many events a seal at most, so that checking one never needs more than a few megabytes. */
const EVENTS_A_SEAL = 10_000;
const LINKS_A_PAGE = 50;

const SEAL = `s.number, s.from_seq AS "fromSeq", s.to_seq AS "toSeq", s.events, s.seal, s.sealed_at AS "sealedAt"`;

@Injectable()
export class AuditRecords {
  constructor(private readonly database: Database) {}

  /** Newest first; not prepared under a name, so that the planner sees which filters are there. */
  page(filter: AuditFilter, before: number | null, limit: number): Promise<AuditRow[]> {
    const { subjectId, siteId, personId, action, from, to } = filter;
    return this.database.sql.query<AuditRow>(
      `SELECT e.seq, e.at, e.person_id AS "personId", p.display_name AS "personName", e.action,
              e.subject_kind AS "subjectKind", e.subject_id AS "subjectId", e.site_id AS "siteId", e.detail
       FROM audit_event e LEFT JOIN person p ON p.id = e.person_id
       WHERE ($1::text IS NULL OR e.subject_id = $1) AND ($2::uuid IS NULL OR e.site_id = $2)
         AND ($3::uuid IS NULL OR e.person_id = $3) AND ($4::text IS NULL OR e.action = $4)
         AND ($5::timestamptz IS NULL OR e.at >= $5) AND ($6::timestamptz IS NULL OR e.at < $6)
         AND ($7::bigint IS NULL OR e.seq < $7)
       ORDER BY e.seq DESC LIMIT $8`,
      [subjectId, siteId, personId, action, from, to, before, limit + 1],
    );
  }

  sealsPage(before: number | null, limit: number): Promise<AuditSealRow[]> {
    return this.database.sql.query<AuditSealRow>(
      `SELECT ${SEAL} FROM audit_seal s WHERE ($1::int IS NULL OR s.number < $1)
       ORDER BY s.number DESC LIMIT $2`,
      [before, limit + 1],
    );
  }

  /**
   * The last number up to which nothing is still to come. Writers under way have drawn their numbers already; the lock
   * waits for them, and is held no longer than it takes to look. While it waits, every new writer waits behind it: it
   * gives up soon (refused as `busy`), so that nobody at a hub stands behind a long import.
   */
  settledSeq(): Promise<number> {
    return this.database.writeSql(async (sql) => {
      await sql.query(`SET LOCAL lock_timeout = '200ms'`);
      await sql.query('LOCK TABLE audit_event IN SHARE MODE');
      const [row] = await sql.query<{ seq: number }>('SELECT coalesce(max(seq), 0) AS seq FROM audit_event');
      return row?.seq ?? 0;
    });
  }

  /** Seals what comes after the last seal, up to `settled`; the seals made. One process at a time. */
  async seal(sql: Sql, settled: number): Promise<AuditSealRow[]> {
    await sql.query(`SELECT pg_advisory_xact_lock(hashtextextended('audit_seal', 0))`);
    const made: AuditSealRow[] = [];
    for (;;) {
      const [row] = await sql.query<AuditSealRow>(
        `INSERT INTO audit_seal AS s (number, from_seq, to_seq, events, seal)
         SELECT coalesce(last.number, 0) + 1, coalesce(last.to_seq, 0) + 1, run.to_seq, run.events,
                audit_digest(last.seal, coalesce(last.to_seq, 0) + 1, run.to_seq)
         FROM (VALUES (true)) AS always (so)
         LEFT JOIN (SELECT number, to_seq, seal FROM audit_seal ORDER BY number DESC LIMIT 1) AS last ON so
         CROSS JOIN LATERAL (
           SELECT max(seq) AS to_seq, count(*) AS events FROM (
             SELECT seq FROM audit_event WHERE seq > coalesce(last.to_seq, 0) AND seq <= $1
             ORDER BY seq LIMIT ${EVENTS_A_SEAL}) AS next
         ) AS run
         WHERE run.events > 0
         RETURNING ${SEAL}`,
        [settled],
      );
      if (!row) return made;
      made.push(row);
    }
  }

  async newestSeal(sql: Sql): Promise<AuditSealRow> {
    const [row] = await sql.query<AuditSealRow>(
      `SELECT ${SEAL} FROM audit_seal s ORDER BY s.number DESC LIMIT 1`,
    );
    if (!row) throw new Error('nothing is sealed, and nothing was left to seal');
    return row;
  }

  /** The same in a transaction of its own: a machine's regular work, of which no audit line tells but the seal itself. */
  sealAlone(settled: number): Promise<AuditSealRow[]> {
    return this.database.writeSql((sql) => this.seal(sql, settled));
  }

  /** Every seal with its digest computed anew, and how many events no seal holds yet; all of one moment. */
  chain(): Promise<{ links: ChainLink[]; unsealed: number }> {
    return this.database.readSnapshot(async (sql) => {
      const links: ChainLink[] = [];
      for (;;) {
        const page = await linksAfter(sql, links.at(-1)?.number ?? 0);
        links.push(...page);
        if (page.length < LINKS_A_PAGE) break;
      }
      const [row] = await sql.query<{ unsealed: number }>(
        'SELECT count(*) AS unsealed FROM audit_event WHERE seq > $1',
        [links.at(-1)?.toSeq ?? 0],
      );
      return { links, unsealed: row?.unsealed ?? 0 };
    });
  }

  /** Seals of documents that the trail tells of. */
  async notedSeals(): Promise<string[]> {
    const rows = await this.database.sql.query<{ seal: string }>(
      `SELECT DISTINCT detail ->> 'seal' AS seal FROM audit_event WHERE action = 'document.sealed'`,
    );
    return rows.map(({ seal }) => seal);
  }
}

function linksAfter(sql: Sql, number: number): Promise<ChainLink[]> {
  return sql.query<ChainLink>(
    `SELECT ${SEAL}, previous.to_seq AS "previousToSeq",
            audit_digest(previous.seal, s.from_seq, s.to_seq) AS "sealFound",
            (SELECT count(*) FROM audit_event WHERE seq BETWEEN s.from_seq AND s.to_seq) AS "eventsFound"
     FROM audit_seal s LEFT JOIN audit_seal previous ON previous.number = s.number - 1
     WHERE s.number > $1 ORDER BY s.number LIMIT ${LINKS_A_PAGE}`,
    [number],
  );
}
