import { estimateMassG, formatMass, massToG, volumeToMl } from '#libs/quantities';
import type { Mass, Volume } from '#libs/quantities';
import { invalid } from '../http/problems/catalogue.js';
import type { IntakeFacts } from '../sites/site-facts.service.js';
import type { Amount, EnteredReject, EnteredWeight, LotEntry, Reject } from './lot.js';

const FORMS = 'must be one of {gross, containerId}, {gross, tare} and {net}';

/** The mass of a lot: weighed in exactly one of three forms, or estimated from a volume. Refuses anything else. */
export function amountOf(
  { weight, volume }: Pick<LotEntry, 'weight' | 'volume'>,
  { container, material }: Pick<IntakeFacts, 'container' | 'material'>,
): Amount {
  if (weight && volume)
    throw invalid('/volume', 'goes without a weight: a lot is weighed, or taken by volume');
  if (weight) return weighed(weight, container);
  if (volume) return estimated(volume, material);
  throw invalid('/weight', 'is missing: a lot is weighed, or taken by volume');
}

const ofScale = { basis: 'scale', volumeMl: null, densityKgM3: null, densitySource: null } as const;

function weighed(weight: EnteredWeight, container: IntakeFacts['container']): Amount {
  const { gross, tare, net, containerId } = weight;
  const entered = { weight };
  const loose = { ...ofScale, containerId: null, entered };
  if (net && !gross && !tare && containerId === undefined) {
    return { ...loose, grossG: null, tareG: null, netG: massToG(net) };
  }
  if (!gross || net) throw invalid('/weight', FORMS);
  if (tare && containerId === undefined) return { ...loose, ...withTare(gross, tare) };
  if (!tare && container) {
    const grossG = massToG(gross);
    const { tareG } = container;
    if (tareG > grossG) {
      const told = `is less than the container weighs empty, ${formatMass(tareG, gross.unit, 2)} ${gross.unit}`;
      throw invalid('/weight/gross', told);
    }
    return { ...ofScale, containerId: container.id, entered, grossG, tareG, netG: grossG - tareG };
  }
  throw invalid('/weight', FORMS);
}

function withTare(gross: Mass, tare: Mass) {
  if (tare.unit !== gross.unit) {
    throw invalid('/weight/tare/unit', `must be ${gross.unit} like the gross: one scale shows one unit`);
  }
  const grossG = massToG(gross);
  const tareG = massToG(tare);
  if (tareG > grossG) throw invalid('/weight/tare', 'must not be more than the gross');
  return { grossG, tareG, netG: grossG - tareG };
}

function estimated(volume: Volume, material: IntakeFacts['material']): Amount {
  const volumeMl = volumeToMl(volume);
  if (volumeMl === 0) throw invalid('/volume', 'must be more than nothing');
  const density = material?.bulkDensityKgM3;
  if (!material || !density) {
    throw invalid('/volume', 'cannot be turned into a mass: the bulk density of this material is not known');
  }
  return {
    ...{ basis: 'volume', grossG: null, tareG: null, netG: estimateMassG(volumeMl, density) },
    ...{ volumeMl, densityKgM3: density, densitySource: material.densitySource },
    containerId: null,
    entered: { volume },
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
