import { createHash } from 'node:crypto';
import { canonicalJson } from '#libs/documents';
import type { Actor } from '../http/access/actor.js';
import { idOr } from '../http/dto/id.js';
import { invalid, Problem } from '../http/problems/catalogue.js';
import type { Recorded } from '../http/writes/replay.js';
import { textOf } from './import-table.js';
import type { AnyReport, ImportReach, ImportsRecords } from './imports.records.js';

/** What tells one import from another under the same id. */
export interface Sent {
  id: string;
  sha256: Buffer;
  fileName: string;
  settings: object;
}

export interface SentFile {
  id?: string;
  fileName: string;
  csv?: string;
  csvBase64?: string;
}

/** Somebody imported the same lines, or under the same id, since they were looked up. */
export class Overtaken extends Error {}

export function sentOf(dto: SentFile): Sent & { text: string } {
  const { csv, csvBase64, fileName } = dto;
  if ((csv === undefined) === (csvBase64 === undefined))
    throw invalid('/csv', 'send either csv or csvBase64');
  const bytes = csv === undefined ? Buffer.from(csvBase64 ?? '', 'base64') : Buffer.from(csv);
  const sha256 = createHash('sha256').update(bytes).digest();
  return { id: idOr(dto.id), sha256, settings: settingsOf(dto), fileName, text: csv ?? textOf(bytes) };
}

const NO_SETTINGS = new Set(['id', 'kind', 'fileName', 'csv', 'csvBase64', 'dryRun']);

function settingsOf(dto: object): object {
  const settings = Object.entries(dto).filter(([field]) => !NO_SETTINGS.has(field));
  return JSON.parse(JSON.stringify(Object.fromEntries(settings))) as object;
}

/** The first answer, where the same file was sent under the same id; refuses (409) another one. */
export async function sentBefore<Report extends AnyReport>(
  records: ImportsRecords,
  sent: Sent,
): Promise<Recorded<Report> | null> {
  const kept = await records.find<Report>(sent.id);
  if (!kept) return null;
  const same = kept.fileSha256.equals(sent.sha256) && kept.fileName === sent.fileName;
  if (!same || canonicalJson(kept.settings) !== canonicalJson(sent.settings)) throw new Problem('other-body');
  return { replayed: true, body: kept.report };
}

/** Imports that somebody may read of: those of sites of theirs, and their own. */
export const reachOf = (actor: Actor): ImportReach => ({
  siteIds: actor.sitesFor('manager'),
  personId: actor.personId,
});
