import { kgOf, litresOf } from '#libs/quantities';
import { localDay } from '../http/dto/time.js';
import { kgWords, litresWords } from './portions.js';
import type { Standing } from './standing.js';
import type { StockLineDto } from './stock.dto.js';

const DAY_MS = 86_400_000;

/** A moment, and where its day is told. */
interface Now {
  atMs: number;
  timeZone: string;
}

export function lineView(standing: Standing, now: Now): StockLineDto {
  const { line, countedG, leftG, leftMl, beyondG, measure } = standing;
  return {
    material: line.materialCode,
    name: line.name,
    countId: line.countId,
    countedAt: line.countedAt.toISOString(),
    countedDaysAgo: daysAgo(standing, now),
    basis: line.basis,
    countedKg: kgOrNull(countedG),
    countedL: litresOrNull(line.volumeMl),
    usedKg: kgOf(line.usedG),
    leftKg: kgOrNull(leftG),
    leftL: litresOrNull(leftMl),
    usedBeyondCountKg: kgOf(beyondG),
    measure: measure && {
      containerId: measure.containerId,
      container: measure.code,
      volumeL: litresOf(measure.volumeMl),
    },
    costPerKg: line.costPerKg,
    retired: line.retired,
    text: textOf(standing, daysAgo(standing, now)),
  };
}

const kgOrNull = (massG: number | null) => (massG === null ? null : kgOf(massG));
const litresOrNull = (volumeMl: number | null) => (volumeMl === null ? null : litresOf(volumeMl));

/** By the calendar of the yard: what was counted last evening is of yesterday. */
function daysAgo({ line }: Standing, { atMs, timeZone }: Now): number {
  const dayMs = (ms: number) => Date.parse(localDay(ms, timeZone));
  return Math.max(0, (dayMs(atMs) - dayMs(line.countedAt.getTime())) / DAY_MS);
}

const NO_DENSITY = 'How much it weighs is not known, since its density is not: weigh it, or add its density.';

function textOf(standing: Standing, days: number): string {
  const { leftG, beyondG } = standing;
  const age = days === 0 ? 'today' : days === 1 ? 'yesterday' : `${days} days ago`;
  return [
    `${leftWords(standing)} left, by the count of ${age}.`,
    ...(beyondG > 0 ? [`${kgWords(beyondG)} more was used than had been counted: count it again.`] : []),
    ...(leftG === null ? [NO_DENSITY] : []),
  ].join(' ');
}

/** Less would be told as 0.0 kg. */
const HARDLY_G = 50;

/** What was measured first, then what follows from its density. */
function leftWords({ line, leftG, leftMl }: Standing): string {
  if (leftG === 0) return 'None';
  if (leftG === null) return leftMl === null ? 'An unknown amount' : litresWords(leftMl);
  if (leftG < HARDLY_G) return 'Hardly any';
  if (leftMl === null) return kgWords(leftG);
  return line.basis === 'scale'
    ? `${kgWords(leftG)}, about ${litresWords(leftMl)},`
    : `${litresWords(leftMl)}, about ${kgWords(leftG)},`;
}
