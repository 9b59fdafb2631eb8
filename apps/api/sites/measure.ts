import { invalid } from '../http/problems/catalogue.js';
import type { IntakeFacts } from './site-facts.js';

/** What a site counts and measures out in. */
export interface SiteMeasure {
  id: string;
  volumeMl: number;
}

/** A container that is a measure of a site: one of its own, in use, whose volume is known. Refuses (422) any other. */
export function measureOf(container: IntakeFacts['container'], siteId: string, pointer: string): SiteMeasure {
  if (container?.siteId !== siteId) throw invalid(pointer, 'is no container of this site');
  const { id, code, volumeMl, retired } = container;
  if (retired) throw invalid(pointer, `${code} is retired`);
  if (volumeMl === null) throw invalid(pointer, `how much ${code} holds is not known: add its volume first`);
  return { id, volumeMl };
}
