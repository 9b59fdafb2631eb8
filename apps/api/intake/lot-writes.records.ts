import { Injectable } from '@nestjs/common';
import { Database, type Sql } from '#libs/database';
import type { Actor } from '../http/access/actor.js';
import { AuditedStatement } from '../http/writes/audit.records.js';
import { type SqlWrite, Work } from '../http/writes/work.js';
import type { LotFacts, NewLot } from './lot.js';

/** A line of a file, by which a lot that is imported again is known. */
export interface ImportedLot extends NewLot {
  importId: string;
  /** Hexadecimal. */
  importKey: string;
}

export interface KeptLot {
  id: string;
  recordedAt: Date;
}

export type Revising = 'corrected' | 'voided' | 'reject-pulled' | 'weighed-with-haul' | 'weight-taken-back';

export interface NewRevision extends LotFacts {
  id: string;
  siteId: string;
  revision: number;
  voided: boolean;
  reason: string;
  entryId: string | null;
  /** Hexadecimal. */
  entrySha256: string | null;
}

const FACT_COLUMNS = `occurred_at, material_code, jurisdiction_id, depositor, basis, gross_g, tare_g, net_g, rejected_g,
  accepted_g, volume_ml, density_kg_m3, density_source, container_id, haul_receipt_id, instrument_id, note, entered, warnings`;
const FACTS = `"occurredAt", material, "jurisdictionId", depositor, basis, "grossG", "tareG", "netG", "rejectedG",
  "acceptedG", "volumeMl", "densityKgM3", "densitySource", "containerId", "haulReceiptId", "instrumentId", note, entered,
  warnings`;

/** The lots as they are in memory, read by the names of their fields. */
const given = (identity: string) => `given AS (
  SELECT * FROM jsonb_to_recordset($2::jsonb) AS lot(
    id uuid, "siteId" uuid, ${identity}, "occurredAt" timestamptz, material text, "jurisdictionId" uuid, depositor text,
    basis text, "grossG" int, "tareG" int, "netG" int, "rejectedG" int, "acceptedG" int, "volumeMl" bigint,
    "densityKgM3" numeric, "densitySource" text, "containerId" uuid, "haulReceiptId" uuid, "instrumentId" uuid, note text,
    entered jsonb, warnings jsonb, rejects jsonb))`;

/** Each revision carries its whole list of rejects. */
const REJECTS = `reject AS (
  INSERT INTO drop_off_reject (drop_off_id, revision, line, contaminant, mass_g, went_to, entered)
  SELECT id, revision.revision, line, contaminant, "massG", "wentTo", x.entered
  FROM given JOIN revision USING (id)
  CROSS JOIN ROWS FROM (
    jsonb_to_recordset(rejects) AS (contaminant text, "massG" int, "wentTo" text, entered jsonb)
  ) WITH ORDINALITY AS x(contaminant, "massG", "wentTo", entered, line))`;

/**
 * Any number of lots with their rejects and audit lines, in one statement. Those whose id (or line of a file) is kept
 * already are left alone, also while somebody else is just writing them, and are not in the answer. They go in by
 * order of id, so that two who send the same lots wait for one another and never each for the other.
 */
const KEEP = new AuditedStatement<KeptLot>({
  name: 'drop-offs-keep',
  action: 'drop-off.recorded',
  subjectKind: 'drop-off',
  writes: `
    ${given('"shiftId" uuid, "bodySha256" text, "importId" uuid, "importKey" text')},
    lot AS (
      INSERT INTO drop_off (id, site_id, shift_id, body_sha256, import_id, import_key)
      SELECT id, "siteId", "shiftId", decode("bodySha256", 'hex'), "importId", decode("importKey", 'hex')
      FROM given ORDER BY id
      ON CONFLICT DO NOTHING RETURNING id, site_id),
    revision AS (
      INSERT INTO drop_off_revision (drop_off_id, site_id, revision, ${FACT_COLUMNS}, recorded_by)
      SELECT id, site_id, 1, ${FACTS}, $1 FROM given JOIN lot USING (id)
      RETURNING drop_off_id AS id, revision, recorded_at),
    ${REJECTS},
    written AS (SELECT id AS subject_id, site_id, '{}'::jsonb AS detail FROM lot)`,
  answers: 'SELECT id, recorded_at AS "recordedAt" FROM revision',
});

/**
 * The next revision of a lot, or of many, by order of id as above. The database refuses one that does not follow the last.
 */
const revise = (how: Revising) =>
  new AuditedStatement<KeptLot>({
    name: `drop-off-${how}`,
    action: `drop-off.${how}`,
    subjectKind: 'drop-off',
    writes: `
      ${given('revision int, voided boolean, reason text, "entryId" uuid, "entrySha256" text')},
      revision AS (
        INSERT INTO drop_off_revision (drop_off_id, site_id, revision, ${FACT_COLUMNS}, voided, reason, entry_id,
          entry_sha256, recorded_by)
        SELECT id, "siteId", revision, ${FACTS}, voided, reason, "entryId", decode("entrySha256", 'hex'), $1 FROM given
        ORDER BY id
        RETURNING drop_off_id AS id, site_id, revision, reason, recorded_at),
      ${REJECTS},
      written AS (
        SELECT id AS subject_id, site_id, jsonb_build_object('revision', revision, 'reason', reason) AS detail
        FROM revision)`,
    answers: 'SELECT id, recorded_at AS "recordedAt" FROM revision',
  });

const REVISE: Record<Revising, AuditedStatement<KeptLot>> = {
  corrected: revise('corrected'),
  voided: revise('voided'),
  'reject-pulled': revise('reject-pulled'),
  'weighed-with-haul': revise('weighed-with-haul'),
  'weight-taken-back': revise('weight-taken-back'),
};

@Injectable()
export class LotWritesRecords {
  constructor(
    private readonly database: Database,
    private readonly work: Work,
  ) {}

  /** Keeps what is not kept yet, in a transaction of its own, and answers with those. Ids must differ. */
  async keep(actor: Actor, lots: readonly NewLot[]): Promise<KeptLot[]> {
    if (lots.length === 0) return [];
    return this.work.once(actor, KEEP, [JSON.stringify(lots)]);
  }

  /** The same inside a transaction that is under way. */
  async keepIn(sql: Sql, actor: Actor, lots: readonly ImportedLot[]): Promise<KeptLot[]> {
    return KEEP.run(sql, actor.personId, [JSON.stringify(lots)]);
  }

  /** Answers when it was recorded. */
  async revise(actor: Actor, how: Revising, next: NewRevision): Promise<Date> {
    const [kept] = await this.work.once(actor, REVISE[how], [JSON.stringify([next])]);
    if (!kept) throw new Error('a revision was inserted and not answered');
    return kept.recordedAt;
  }

  /** The same of many lots, inside a transaction that is under way. */
  async reviseIn(write: SqlWrite, how: Revising, next: readonly NewRevision[]): Promise<void> {
    if (next.length > 0) await REVISE[how].run(write.sql, write.actor.personId, [JSON.stringify(next)]);
  }

  /** Which revision an entry made, and the digest of its body. */
  async ofEntry(entryId: string): Promise<{ id: string; revision: number; sha256: Buffer } | null> {
    const [row] = await this.database.sql.query<{ id: string; revision: number; sha256: Buffer }>(
      `SELECT drop_off_id AS id, revision, entry_sha256 AS sha256 FROM drop_off_revision WHERE entry_id = $1`,
      [entryId],
    );
    return row ?? null;
  }

  /** Which of these lines of files are kept already. */
  async keptLines(siteId: string, keys: readonly string[]): Promise<Set<string>> {
    const rows = await this.database.sql.query<{ key: string }>(
      `SELECT key FROM unnest($2::text[]) AS key
       WHERE EXISTS (SELECT FROM drop_off WHERE site_id = $1 AND import_key = decode(key, 'hex'))`,
      [siteId, keys],
    );
    return new Set(rows.map((row) => row.key));
  }
}
