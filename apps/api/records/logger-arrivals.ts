import { lengthToMm } from '#libs/quantities';
import type { Fault } from '../http/problems/catalogue.js';
import type { ArrivedReading, Refusal } from '../loggers/logger-ingest.service.js';
import type { LoggerImportSettingsDto } from './logger-imports.dto.js';
import type { LoggerCell } from './logger-lines.js';

type Place = Pick<ArrivedReading, 'bay' | 'batchId' | 'position' | 'zone' | 'depthMm'>;

/** Where each probe of a file was. */
export function placesOf({ probes, ...file }: LoggerImportSettingsDto): Place[] {
  return probes.map(({ position, zone = null, depth, ...own }) => {
    const { bay = null, batchId = null } = hasTarget(own) ? own : file;
    const depthMm = depth ? lengthToMm(depth) : null;
    return { bay, batchId: batchId?.toLowerCase() ?? null, position, zone, depthMm };
  });
}

const hasTarget = ({ bay, batchId }: { bay?: string; batchId?: string }) =>
  bay !== undefined || batchId !== undefined;

/** Every probe lies in one bay or one batch, and no two are one and the same. */
export function placeFaults(settings: LoggerImportSettingsDto): Fault[] {
  const seen = new Set<string>();
  return placesOf(settings).flatMap(({ bay, batchId, position }, index): Fault[] => {
    const at = hasTarget(settings.probes[index] ?? {}) ? `/probes/${index}/bay` : '/bay';
    if ((bay === null) === (batchId === null)) return [{ pointer: at, detail: 'name a bay or a batch' }];
    const key = JSON.stringify([bay, batchId, position]);
    if (seen.has(key)) return [{ pointer: `/probes/${index}/position`, detail: 'is of another probe too' }];
    seen.add(key);
    return [];
  });
}

/** What speaks of the settings and not of a reading: every reading of the probe would be refused for it. */
export function settingFault(
  { field, detail }: Refusal,
  { probe }: LoggerCell,
  { probes }: LoggerImportSettingsDto,
): Fault | null {
  if (field === 'bay' || field === 'batchId') {
    return { pointer: hasTarget(probes[probe] ?? {}) ? `/probes/${probe}/${field}` : `/${field}`, detail };
  }
  return field === 'depth' ? { pointer: `/probes/${probe}/depth`, detail } : null;
}
