import { Injectable } from '@nestjs/common';
import { Database, type Sql } from '#libs/database';
import type { Actor } from '../http/access/actor.js';
import { AuditedStatement } from '../http/work/audit.records.js';
import { Work } from '../http/work/work.js';
import type { LotFacts, NewLot } from './lot.js';

/** A line of a file, by which a lot that is imported again is known. */
export interface ImportedLot extends NewLot {
  importId: string;
  importKey: Buffer;
}

export interface KeptLot {
  id: string;
  recordedAt: Date;
}

export type Revising = 'corrected' | 'voided' | 'reject-pulled';

export interface NewRevision extends LotFacts {
  id: string;
  siteId: string;
  revision: number;
  voided: boolean;
  reason: string;
  entryId: string | null;
  entrySha256: Buffer | null;
}

const FACTS = `occurred_at, material_code, jurisdiction_id, depositor, basis, gross_g, tare_g, net_g, rejected_g, accepted_g,
  volume_ml, density_kg_m3, density_source, container_id, instrument_id, note, entered, warnings`;

const given = (identity: string) => `given AS (
  SELECT * FROM jsonb_to_recordset($2::jsonb) AS lot(
    id uuid, site_id uuid, ${identity}, occurred_at timestamptz, material_code text, jurisdiction_id uuid, depositor text,
    basis text, gross_g int, tare_g int, net_g int, rejected_g int, accepted_g int, volume_ml bigint,
    density_kg_m3 numeric, density_source text, container_id uuid, instrument_id uuid, note text, entered jsonb,
    warnings jsonb, rejects jsonb))`;

/** Each revision carries its whole list of rejects. */
const REJECTS = `reject AS (
  INSERT INTO drop_off_reject (drop_off_id, revision, line, contaminant, mass_g, went_to, entered)
  SELECT id, revision.revision, x.line, x.contaminant, x.mass_g, x.went_to, x.entered
  FROM given JOIN revision USING (id)
  CROSS JOIN jsonb_to_recordset(rejects)
    AS x(line int, contaminant text, mass_g int, went_to text, entered jsonb))`;

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
    ${given('shift_id uuid, body_sha256 text, import_id uuid, import_key text')},
    lot AS (
      INSERT INTO drop_off (id, site_id, shift_id, body_sha256, import_id, import_key)
      SELECT id, site_id, shift_id, decode(body_sha256, 'hex'), import_id, decode(import_key, 'hex')
      FROM given ORDER BY id
      ON CONFLICT DO NOTHING RETURNING id, site_id),
    revision AS (
      INSERT INTO drop_off_revision (drop_off_id, site_id, revision, ${FACTS}, recorded_by)
      SELECT id, lot.site_id, 1, ${FACTS}, $1 FROM given JOIN lot USING (id)
      RETURNING drop_off_id AS id, revision, recorded_at),
    ${REJECTS},
    written AS (SELECT id AS subject_id, site_id, '{}'::jsonb AS detail FROM lot)`,
  answers: 'SELECT id, recorded_at AS "recordedAt" FROM revision',
});

/** The next revision of a lot. The database refuses one that does not follow the last. */
const revise = (how: Revising) =>
  new AuditedStatement<KeptLot>({
    name: `drop-off-${how}`,
    action: `drop-off.${how}`,
    subjectKind: 'drop-off',
    writes: `
      ${given('revision int, voided boolean, reason text, entry_id uuid, entry_sha256 text')},
      revision AS (
        INSERT INTO drop_off_revision (drop_off_id, site_id, revision, ${FACTS}, voided, reason, entry_id, entry_sha256,
          recorded_by)
        SELECT id, site_id, revision, ${FACTS}, voided, reason, entry_id, decode(entry_sha256, 'hex'), $1 FROM given
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
};

function factColumns(lot: LotFacts) {
  return {
    occurred_at: lot.occurredAt,
    material_code: lot.material,
    jurisdiction_id: lot.jurisdictionId,
    depositor: lot.depositor,
    basis: lot.basis,
    gross_g: lot.grossG,
    tare_g: lot.tareG,
    net_g: lot.netG,
    rejected_g: lot.rejectedG,
    accepted_g: lot.acceptedG,
    volume_ml: lot.volumeMl,
    density_kg_m3: lot.densityKgM3,
    density_source: lot.densitySource,
    container_id: lot.containerId,
    instrument_id: lot.instrumentId,
    note: lot.note,
    entered: lot.entered,
    warnings: lot.warnings,
    rejects: lot.rejects.map(({ contaminant, massG, wentTo, entered }, index) => ({
      ...{ line: index + 1, contaminant, entered },
      ...{ mass_g: massG, went_to: wentTo },
    })),
  };
}

function lotColumns(lot: NewLot | ImportedLot) {
  return {
    ...{
      id: lot.id,
      site_id: lot.siteId,
      shift_id: lot.shiftId,
      body_sha256: lot.bodySha256.toString('hex'),
    },
    ...('importId' in lot ? { import_id: lot.importId, import_key: lot.importKey.toString('hex') } : {}),
    ...factColumns(lot),
  };
}

@Injectable()
export class LotWritesRecords {
  constructor(
    private readonly database: Database,
    private readonly work: Work,
  ) {}

  /** Keeps what is not kept yet, in a transaction of its own, and answers with those. Ids must differ. */
  async keep(actor: Actor, lots: readonly NewLot[]): Promise<KeptLot[]> {
    if (lots.length === 0) return [];
    return this.work.once(actor, KEEP, [JSON.stringify(lots.map(lotColumns))]);
  }

  /** The same inside a transaction that is under way. */
  async keepIn(sql: Sql, actor: Actor, lots: readonly ImportedLot[]): Promise<KeptLot[]> {
    return KEEP.run(sql, actor.personId, [JSON.stringify(lots.map(lotColumns))]);
  }

  /** Answers when it was recorded. */
  async revise(actor: Actor, how: Revising, next: NewRevision): Promise<Date> {
    const { id, revision, voided, reason } = next;
    const identity = { id, site_id: next.siteId, revision, voided, reason };
    const entry = { entry_id: next.entryId, entry_sha256: next.entrySha256?.toString('hex') ?? null };
    const columns = { ...identity, ...entry, ...factColumns(next) };
    const [kept] = await this.work.once(actor, REVISE[how], [JSON.stringify([columns])]);
    if (!kept) throw new Error('a revision was inserted and not answered');
    return kept.recordedAt;
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
  async keptLines(siteId: string, keys: readonly Buffer[]): Promise<Set<string>> {
    const rows = await this.database.sql.query<{ key: string }>(
      `SELECT encode(import_key, 'hex') AS key FROM drop_off WHERE site_id = $1 AND import_key = ANY($2::bytea[])`,
      [siteId, keys],
    );
    return new Set(rows.map((row) => row.key));
  }
}
