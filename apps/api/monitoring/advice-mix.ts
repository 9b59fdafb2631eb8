import { type MixFigure, type MixTarget, targetsAsked } from '#libs/materials';
import type { AdviceMix, MixAsked } from '#libs/process';
import type { BatchMix, MixStanding } from '../mixing/mix.service.js';

/** A figure that rests on less of the mass says too little of the mix. */
const KNOWN_PERCENT = 90;

/** As figures of a mix are spoken of, and what follows them. */
const SPOKEN: Readonly<Record<MixFigure, readonly [name: string, unit: string]>> = {
  carbonToNitrogen: ['C:N', ''],
  moisturePercent: ['moisture', ' %'],
  bulkDensityKgM3: ['bulk density', ' kg/m³'],
  freeAirSpacePercent: ['free air space', ' %'],
};

/** What advice takes into account of a mix; null where nothing went in. */
export function adviceMix(mix: BatchMix): AdviceMix | null {
  if (mix.massKg === 0) return null;
  const { knownMassPercent: known } = mix;
  const ifKnown = (figure: keyof typeof known) => (known[figure] >= KNOWN_PERCENT ? mix[figure] : null);
  const permit = mix.targets.filter(({ grade }) => grade === 'permit');
  return {
    massG: Math.round(mix.massKg * 1000),
    volumeMl: mix.volumeL === null ? null : Math.round(mix.volumeL * 1000),
    carbonToNitrogen: ifKnown('carbonToNitrogen'),
    moisturePercent: ifKnown('moisturePercent'),
    bulkDensityKgM3: ifKnown('bulkDensityKgM3'),
    // as the additions ask, so that both tell the same of a batch
    asked: targetsAsked(permit, 'reasonable').flatMap((target) => askedOf(target, mix.targets)),
  };
}

/** Nothing where both ends are open. */
function askedOf(
  { figure, grade, min, max, source }: MixTarget,
  standings: readonly MixStanding[],
): MixAsked[] {
  const told = standings.find((one) => one.figure === figure && one.grade === grade);
  if (!told || (min === null && max === null)) return [];
  const [name, unit] = SPOKEN[figure];
  // of a published bulk density only the most is asked for
  const standing = min === null && told.state === 'below' ? 'within' : told.state;
  const status = grade === 'permit' ? 'local' : 'verified';
  return [{ name, unit, min, max, value: told.value, standing, source: { title: source, status } }];
}
