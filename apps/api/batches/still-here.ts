import { litresOf, pileMassG } from '#libs/quantities';
import type { Screened } from './flows.records.js';
import type { LatestPile } from './pile-measurements.records.js';
import type { Stage } from './stages.js';

type Measured = Pick<LatestPile, 'occurredAt' | 'volumeMl' | 'massG' | 'inSinceG' | 'outSinceG'>;

export interface Lying {
  stage: Stage;
  /** When it entered that stage; null where it is about to. */
  stageAt: Date | null;
  wentIn: boolean;
  mergedOn: boolean;
  screened: Screened;
  pile: Measured | null;
}

/** What still lies there of a batch, and how that is known or why not. */
export interface StillHere {
  massG: number | null;
  text: string;
}

/**
 * Screening is taken to be of the whole batch: once a batch is released or condemned and was screened, nothing of it is left
 * unparted. Before, nobody weighs what lies there but by measuring the pile: that counts with what went in since, and less
 * the samples that were taken since, until the pile is parted by a screening.
 */
export function stillHereOf(lying: Lying): StillHere {
  const { stage, screened, pile } = lying;
  if (!lying.wentIn) return { massG: 0, text: 'Nothing has gone in.' };
  if (lying.mergedOn)
    return { massG: 0, text: 'It was merged into another batch: all that lay there went with it.' };
  const isOut = stage === 'released' || stage === 'emptied';
  if (isOut && screened.lastAt)
    return { massG: 0, text: 'It was screened: all of it is counted as compost, overs or residue.' };
  if (stage === 'emptied') return unknown('It was not screened, so nobody weighed what became of it.');
  const isStale = pile && screened.lastAt && screened.lastAt >= pile.occurredAt;
  if (pile && !isStale) return ofPile(pile, screened);
  if (wasCarriedOff(lying))
    return { massG: 0, text: 'It was condemned and carried off: all of it is counted as overs or residue.' };
  if (isStale) return unknown('It was screened since its pile was measured: measure what lies there again.');
  if (stage === 'condemned') return unknown('It was condemned; nobody weighed what was left.');
  if (stage === 'released') return unknown('It was not screened, so nobody weighed what became of it.');
  return unknown(`It is ${stage}; nobody has weighed what lies there.`);
}

const unknown = (text: string): StillHere => ({ massG: null, text });

/** What was screened before it was condemned was a part of it. */
function wasCarriedOff({ stage, stageAt, screened: { lastAt } }: Lying): boolean {
  return stage === 'condemned' && lastAt !== null && (stageAt === null || lastAt >= stageAt);
}

function ofPile(pile: Measured, screened: Screened): StillHere {
  const { massG, by } = massOf(pile, screened);
  const measured = `its pile was measured on ${pile.occurredAt.toISOString().slice(0, 10)}`;
  if (massG === null) return unknown(`When ${measured}, no bucket of it was weighed: its mass is not known.`);
  const moved = pile.inSinceG + pile.outSinceG > 0 ? ', with what went in and came out since' : '';
  return {
    massG: Math.max(0, massG + pile.inSinceG - pile.outSinceG),
    text: `When ${measured}, it held ${litresOf(pile.volumeMl)} L, weighed by ${by}${moved}.`,
  };
}

function massOf(pile: Measured, { measuredG, measuredMl }: Screened) {
  if (pile.massG !== null) return { massG: pile.massG, by: 'a bucket of it' };
  if (measuredG === 0 || measuredMl === 0) return { massG: null, by: '' };
  const bucket = { contentG: measuredG, volumeMl: measuredMl };
  return { massG: pileMassG(pile.volumeMl, bucket), by: 'the density of its screened compost' };
}
