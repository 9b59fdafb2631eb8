import { kgOf, massToG, sumG } from '#libs/quantities';
import { invalid } from '../http/problems/catalogue.js';
import type { IntakeFacts } from '../sites/site-facts.service.js';
import type { HaulEntered } from './hauls.dto.js';

const MOST_G = 50_000_000;

export interface HaulWeight {
  /** Net; null when it was not weighed. */
  massG: number | null;
  containers: { containerId: string; count: number }[];
  entered: HaulEntered;
}

/** The containers that are named, in their order, by what the programme knows of them. */
type Known = readonly IntakeFacts['container'][];

/**
 * What a haul weighed at one of its ends, less the containers it is in. Refuses containers that are of neither site (422), a
 * weight in two forms or none, and one that its empty containers alone make.
 */
export function weightOf(
  { containers = [], weight }: HaulEntered,
  known: Known,
  siteIds: readonly string[],
): HaulWeight {
  const named = containers.map((one) => ({ ...one, containerId: one.containerId.toLowerCase() }));
  const taresG = named.map(({ containerId, count }, index) => {
    const container = known[index];
    const pointer = `/containers/${index}/containerId`;
    if (!container || !siteIds.includes(container.siteId))
      throw invalid(pointer, 'is no container of either site');
    if (named.findIndex((one) => one.containerId === containerId) < index)
      throw invalid(pointer, 'is named twice');
    return container.tareG * count;
  });
  const entered = JSON.parse(JSON.stringify({ containers, weight })) as HaulEntered;
  return { massG: weight ? netOf(weight, named.length > 0, sumG(taresG)) : null, containers: named, entered };
}

function netOf(
  { gross, net }: NonNullable<HaulEntered['weight']>,
  inContainers: boolean,
  tareG: number,
): number {
  if (net && !gross) return positive(massToG(net), '/weight/net', 'must be more than nothing');
  if (!gross || net) throw invalid('/weight', 'must be one of gross and net');
  if (!inContainers)
    throw invalid('/containers', 'are needed to take their tare off the gross; or send the net');
  if (tareG > MOST_G) throw invalid('/containers', 'weigh more empty than any haul');
  const emptyWeigh = `must be more than the containers weigh empty, ${kgOf(tareG)} kg`;
  return positive(massToG(gross) - tareG, '/weight/gross', emptyWeigh);
}

function positive(massG: number, pointer: string, told: string): number {
  if (massG <= 0) throw invalid(pointer, told);
  return massG;
}
