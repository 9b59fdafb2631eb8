import type { Incident, Trouble } from './course.js';
import type { Moment } from './moments.js';

/** No moment is in it yet. */
export function openIncident(kind: Incident['kind'], fromMs: number, toMs: number): Incident {
  return { kind, fromMs, toMs, checks: 0, readings: 0, loggers: [], extreme: null, checkId: null };
}

/** One more moment with the same trouble. */
export function extendIncident(incident: Incident, kind: Trouble, moment: Moment): void {
  incident.toMs = moment.atMs;
  if (moment.logger === null) incident.checks += 1;
  else {
    incident.readings += 1;
    if (!incident.loggers.includes(moment.logger)) incident.loggers.push(moment.logger);
  }
  const extreme = extremeOf(kind, moment);
  if (extreme === null) incident.checkId ??= moment.checkId;
  else if (isFurther(kind, extreme, incident.extreme)) {
    Object.assign(incident, { extreme, checkId: moment.checkId });
  }
}

function isFurther(kind: Trouble, extreme: number, than: number | null): boolean {
  if (than === null) return true;
  return kind === 'above-limit' ? extreme > than : extreme < than;
}

function extremeOf(kind: Trouble, moment: Moment): number | null {
  if (kind === 'above-limit') return moment.highDeciC;
  return kind === 'below-threshold' || kind === 'after-turn' ? moment.lowDeciC : null;
}
