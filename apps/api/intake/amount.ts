import { estimateMassG, formatMass, massToG, volumeToMl } from '#libs/quantities';
import type { Mass } from '#libs/quantities';
import { invalid } from '../http/problems/catalogue.js';
import type { IntakeFacts } from '../sites/site-facts.service.js';
import type { Amount, CountedContainers, EnteredReject, EnteredWeight, LotEntry, Reject } from './lot.js';

type Container = NonNullable<IntakeFacts['container']>;

/** What no lot holds: the same that a single volume may be. */
const MOST_ML = 200_000_000;

const FORMS = 'must be one of {gross, containerId}, {gross, tare} and {net}';

/**
 * The mass of a lot: weighed in exactly one of three forms, or estimated from a volume or from full containers. Refuses
 * anything else.
 */
export function amountOf(
  { weight, volume, containers }: Pick<LotEntry, 'weight' | 'volume' | 'containers'>,
  { container, material }: Pick<IntakeFacts, 'container' | 'material'>,
): Amount {
  if (volume && (weight || containers))
    throw invalid('/volume', 'goes alone: a lot is weighed, taken by volume, or counted in containers');
  if (containers && weight)
    throw invalid('/containers', 'go without a weight: a lot is weighed, or counted in containers');
  if (weight) return weighed(weight, container);
  if (volume) return estimated(volumeToMl(volume), material, '/volume', { volume });
  if (containers) return counted(containers, container, material);
  throw invalid('/weight', 'is missing: a lot is weighed, taken by volume, or counted in containers');
}

function weighed(weight: EnteredWeight, container: IntakeFacts['container']): Amount {
  const { gross, tare, net, containerId } = weight;
  if (net && !gross && !tare && containerId === undefined) return onScale(weight, null, null, massToG(net));
  if (gross && !net && !tare && container) return inContainer(weight, gross, container);
  if (gross && !net && tare && containerId === undefined) return withTare(weight, gross, tare);
  throw invalid('/weight', FORMS);
}

function inContainer(weight: EnteredWeight, gross: Mass, { id, tareG }: Container): Amount {
  const grossG = massToG(gross);
  if (tareG > grossG) {
    const emptyWeighs = `${formatMass(tareG, gross.unit, 2)} ${gross.unit}`;
    throw invalid('/weight/gross', `is less than the container weighs empty, ${emptyWeighs}`);
  }
  return onScale(weight, grossG, tareG, grossG - tareG, id);
}

function withTare(weight: EnteredWeight, gross: Mass, tare: Mass): Amount {
  if (tare.unit !== gross.unit) {
    throw invalid('/weight/tare/unit', `must be ${gross.unit} like the gross: one scale shows one unit`);
  }
  const grossG = massToG(gross);
  const tareG = massToG(tare);
  if (tareG > grossG) throw invalid('/weight/tare', 'must not be more than the gross');
  return onScale(weight, grossG, tareG, grossG - tareG);
}

function onScale(
  weight: EnteredWeight,
  grossG: number | null,
  tareG: number | null,
  netG: number,
  containerId: string | null = null,
): Amount {
  return {
    basis: 'scale',
    grossG,
    tareG,
    netG,
    volumeMl: null,
    densityKgM3: null,
    densitySource: null,
    containerId,
    entered: { weight },
  };
}

function counted(
  containers: CountedContainers,
  container: IntakeFacts['container'],
  material: IntakeFacts['material'],
): Amount {
  if (!container?.volumeMl) {
    const code = container?.code ?? 'it';
    throw invalid('/containers/containerId', `how much ${code} holds is not known: add its volume first`);
  }
  const volumeMl = Math.round(containers.count * container.volumeMl);
  if (volumeMl > MOST_ML) throw invalid('/containers/count', 'must come to at most 200 m3');
  const amount = estimated(volumeMl, material, '/containers', { containers });
  return { ...amount, containerId: container.id };
}

function estimated(
  volumeMl: number,
  material: IntakeFacts['material'],
  pointer: '/volume' | '/containers',
  entered: Amount['entered'],
): Amount {
  if (volumeMl === 0) throw invalid(pointer, 'must be more than nothing');
  const density = material?.bulkDensityKgM3;
  if (!material || !density) {
    throw invalid(pointer, 'cannot be turned into a mass: the bulk density of this material is not known');
  }
  return {
    basis: 'volume',
    grossG: null,
    tareG: null,
    netG: estimateMassG(volumeMl, density),
    volumeMl,
    densityKgM3: density,
    densitySource: material.densitySource,
    containerId: null,
    entered,
  };
}

/** What was pulled out of a lot. Together it cannot weigh more than the lot. */
export function rejectsOf(
  entries: readonly EnteredReject[],
  netG: number,
): { rejects: Reject[]; rejectedG: number } {
  const rejects = entries.map((entry, index) => rejectOf(entry, `/rejects/${index}`));
  const rejectedG = rejects.reduce((sum, reject) => sum + reject.massG, 0);
  if (rejectedG > netG) throw invalid('/rejects', 'must not weigh more than the lot itself');
  return { rejects, rejectedG };
}

export function rejectOf({ contaminant, mass, wentTo }: EnteredReject, pointer = ''): Reject {
  const massG = massToG(mass);
  if (massG === 0) throw invalid(`${pointer}/mass`, 'must be more than nothing');
  return { contaminant, massG, wentTo, entered: { mass } };
}
