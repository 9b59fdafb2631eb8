import type { ObservedCheck, Odour, Sign } from '../observed.js';
import { moistureOf } from './evidence.js';
import type { Finding } from './finding.js';
import { limits } from './limits.js';
import type { Look } from './look.js';
import {
  commonPractice,
  cornellMix,
  cornellNeighbours,
  mysticValley,
  type PracticeSource,
  vermont,
} from './sources.js';

export function dry(look: Look): Finding | null {
  const moisture = moistureOf(look);
  if (moisture?.is !== 'dry') return null;
  const wateredMs = look.wateredAfter(moisture.atMs);
  return {
    key: 'dry',
    urgency: wateredMs === null ? 'soon' : 'watch',
    seen: [
      `Check of ${look.at(moisture.atMs)}: ${moisture.words}.`,
      ...(wateredMs === null ? [] : [`It was watered since, on ${look.at(wateredMs)}.`]),
    ],
    because: 'Below 35 to 40 % water decomposition slows down greatly, and below 30 % it all but stops.',
    source: cornellMix,
  };
}

export function wet(look: Look): Finding | null {
  const moisture = moistureOf(look);
  if (moisture?.is !== 'wet') return null;
  return {
    key: 'wet',
    urgency: 'soon',
    seen: [`Check of ${look.at(moisture.atMs)}: ${moisture.words}.`],
    because: `Up to ${limits.mostMoisturePercent.at} % water is reasonable.`,
    source: limits.mostMoisturePercent.source,
  };
}

type BadOdour = Exclude<Odour, 'earthy' | 'none'>;

const smells: Record<BadOdour, { because: string; source: PracticeSource }> = {
  ammonia: { because: 'A smell of ammonia speaks of too much nitrogen for the carbon.', source: vermont },
  rotten: {
    because: 'A rotten smell speaks of moist material that air does not reach.',
    source: cornellNeighbours,
  },
  sour: { because: 'A sour smell speaks of acids that form where air is short.', source: commonPractice },
};

/** The smell as it was last noted. */
export function smell(look: Look): Finding | null {
  const visit = look.noted(({ odour }) => odour !== null);
  const odour = visit?.check.odour ?? null;
  if (visit === null || odour === null || odour === 'earthy' || odour === 'none') return null;
  const turnedMs = look.turnedAfter(visit.atMs);
  return {
    key: odour,
    urgency: turnedMs === null ? 'soon' : 'watch',
    seen: [
      `Check of ${look.at(visit.atMs)}: smell noted as ${odour}.`,
      ...(turnedMs === null ? [] : [`It was turned since, on ${look.at(turnedMs)}.`]),
    ],
    ...smells[odour],
  };
}

const signRows: Record<Sign, Pick<Finding, 'urgency' | 'because' | 'source'>> = {
  rodents: {
    urgency: 'soon',
    because: 'A compost bin must give rats and mice neither food nor a way in.',
    source: mysticValley,
  },
  flies: { urgency: 'watch', because: 'Flies breed where food lies open.', source: commonPractice },
  leachate: {
    urgency: 'soon',
    because: 'Liquid runs out where there is more water than the mix can hold.',
    source: commonPractice,
  },
};

/** What was about the pile when somebody last looked. */
export function signsSeen(look: Look): Finding[] {
  const looked = ({ signs }: ObservedCheck): boolean => signs !== null;
  const visit = look.noted(looked);
  return (visit?.check.signs ?? []).map((sign) => ({
    key: sign,
    seen: [`Check of ${look.at(visit?.atMs ?? 0)}: ${sign} seen.`],
    ...signRows[sign],
  }));
}
