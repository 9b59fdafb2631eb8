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
  const faults = new Map<string, string>();
  const seen = new Set<string>();
  placesOf(settings).forEach(({ bay, batchId, position }, index) => {
    const own = hasTarget(settings.probes[index] ?? {});
    if ((bay === null) === (batchId === null)) {
      faults.set(own ? `/probes/${index}/bay` : '/bay', 'name a bay or a batch');
    }
    const probe = JSON.stringify([bay, batchId, position]);
    if (seen.has(probe)) faults.set(`/probes/${index}/position`, 'is of another probe too');
    seen.add(probe);
  });
  return [...faults].map(([pointer, detail]) => ({ pointer, detail }));
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
