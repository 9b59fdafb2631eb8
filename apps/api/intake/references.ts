import { type Fault, Problem } from '../http/problems/catalogue.js';
import type { IntakeFacts } from '../sites/site-facts.service.js';

interface Named {
  material?: string | undefined;
  /** Where a container is named. */
  containerAt?: string | undefined;
  instrumentId?: string | undefined;
}

/** Refuses an entry that names what is not there, or is another site's; every fault is told at once. */
export function requireReferences(named: Named, facts: IntakeFacts): void {
  const { site, material, container, instrument } = facts;
  const faults: Fault[] = [];
  const fault = (pointer: string, detail: string) => void faults.push({ pointer, detail });
  if (!site.takesDropOffs) fault('/siteId', 'takes no drop-offs');
  if (named.material !== undefined && !material) fault('/material', 'is not on the list of materials');
  if (!facts.jurisdictionKnown) fault('/jurisdictionId', 'is no jurisdiction of the programme');
  if (named.containerAt !== undefined && container?.siteId !== site.id) {
    fault(named.containerAt, 'is no container of this site');
  }
  if (named.instrumentId !== undefined && instrument?.siteId !== site.id) {
    fault('/instrumentId', 'is no instrument of this site');
  } else if (instrument && instrument.kind !== 'scale') {
    fault('/instrumentId', 'is no scale');
  }
  if (faults.length > 0) throw new Problem('invalid', undefined, faults);
}
