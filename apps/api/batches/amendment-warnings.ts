import { notesOnIntake } from '#libs/materials';
import { kgOf } from '#libs/quantities';
import { localDay } from '../http/dto/time.js';
import type { IntakeFacts } from '../sites/site-facts.service.js';
import type { AmendmentSource, AmendmentWarningDto } from './amendments.dto.js';
import type { CountedStock } from './amendments.records.js';

export interface Watched {
  source: AmendmentSource;
  massG: number;
  /** Of the material that goes in. */
  facts: Pick<IntakeFacts, 'site' | 'permit'> & { material: NonNullable<IntakeFacts['material']> };
  /** Null where it was never counted. */
  counted: CountedStock | null;
}

/** All that is worth a second look in material from stock. Nothing here refuses it; water and overs are none of it. */
export function warningsOf(watched: Watched): AmendmentWarningDto[] {
  if (watched.source !== 'stock') return [];
  return [...permitWarnings(watched), ...stockWarnings(watched), ...materialWarnings(watched)];
}

function permitWarnings({ facts: { permit, material } }: Watched): AmendmentWarningDto[] {
  if (!permit || permit.allowsMaterial) return [];
  const text = `Permit ${permit.reference} does not list "${material.name}".`;
  return [{ code: 'material-not-on-permit', text, pointer: '/material' }];
}

/** So little is what rounding leaves. */
const HARDLY_G = 50;

function stockWarnings({ massG, facts: { site }, counted }: Watched): AmendmentWarningDto[] {
  if (counted === null || counted.countedG === null) return [];
  const leftG = Math.max(0, counted.countedG - counted.takenG);
  if (massG <= leftG + HARDLY_G) return [];
  const day = localDay(counted.countedAt.getTime(), site.timeZone);
  const text =
    leftG <= HARDLY_G
      ? `None is left by the count of ${day}.`
      : `${kgOf(massG)} kg is more than the ${kgOf(leftG)} kg left by the count of ${day}.`;
  return [{ code: 'more-than-in-stock', text }];
}

/** Of what may have been sprayed nobody is there any more to be asked: the mix tells of it. */
function materialWarnings({ facts: { permit, material } }: Watched): AmendmentWarningDto[] {
  return notesOnIntake(material.traits, permit)
    .filter(({ code }) => code !== 'herbicide-risk')
    .map((note) => ({ ...note, pointer: '/material' }));
}
