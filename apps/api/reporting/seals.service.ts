import { createHash } from 'node:crypto';
import { Injectable } from '@nestjs/common';
import { canonicalJson, sealOf } from '#libs/documents';
import { notFound } from '../http/problems/catalogue.js';
import type { SqlWrite } from '../http/writes/work.js';
import type { SealDto } from './seals.dto.js';
import { type SealedKind, type SealedRow, SealsRecords } from './seals.records.js';

export interface Seal {
  /** SHA-256, hex, over the canonical JSON of the document. */
  seal: string;
  version: number;
}

@Injectable()
export class SealsService {
  constructor(private readonly records: SealsRecords) {}

  /**
   * Seals a document inside a write. The same document again has the seal and version it has already. The seal also
   * stands in the audit trail, which is chained: whoever replaced document and seal together would be found out there.
   * Throws TypeError for what canonical JSON cannot hold.
   */
  async seal(write: SqlWrite, kind: SealedKind, subjectId: string, document: unknown): Promise<Seal> {
    const seal = sealOf(document);
    const version = await this.records.insert(write, {
      seal,
      kind,
      subjectId,
      document: canonicalJson(document),
    });
    const detail = { seal, version };
    write.audit({ action: 'document.sealed', subjectKind: kind, subjectId, siteId: null, detail });
    return { seal, version };
  }

  /** The newest sealed version, its canonical JSON verbatim; null when none was sealed. */
  latest(kind: SealedKind, subjectId: string): Promise<SealedRow | null> {
    return this.records.latest(kind, subjectId);
  }

  /** The canonical JSON that was sealed under a seal, verbatim. Refuses (404) where there is none. */
  async document(seal: string, sql?: SqlWrite['sql']): Promise<string> {
    const row = await this.records.find(seal, sql);
    if (!row) throw notFound('sealed document');
    return row.document;
  }

  /** Whether a seal is known here and its document unchanged. The document itself is not given away. */
  async check(seal: string): Promise<SealDto> {
    const row = await this.records.find(seal);
    if (!row) throw notFound('seal');
    return {
      seal: row.seal,
      kind: row.kind,
      version: row.version,
      sealedAt: row.sealedAt.toISOString(),
      intact: createHash('sha256').update(row.document, 'utf8').digest('hex') === row.seal,
    };
  }

  /** What is wrong with the sealed documents, in words; `noted` are the seals that the audit trail tells of. */
  async faults(noted: readonly string[]): Promise<string[]> {
    const altered = await this.records.altered();
    const absent = await this.records.absent(noted);
    return [
      ...altered.map((seal) => `The document sealed as ${seal} was altered.`),
      ...absent.map((seal) => `The document sealed as ${seal} is not here any more.`),
    ];
  }
}
