import type { SiteCalendar } from '../calendar.js';
import type { Stretch } from '../reading/course.js';
import type { Demand } from '../outcome/demands.js';
import type { Terms } from '../reading/terms.js';
import { sayFigure, sayHours, sayLevel, sayTemperature } from '../words.js';

/** What a rule asks besides time and turns: "4 hours above 55 °C (131 °F)". */
export function sayDemands({ peak, average, leastMoisturePercent, carbonToNitrogen }: Terms): string[] {
  return [
    ...(peak === null ? [] : [`${sayHours(peak.ms)} ${sayLevel(peak)}`]),
    ...(average === null ? [] : [`a mean ${sayLevel(average)}`]),
    ...(leastMoisturePercent === null ? [] : [sayLeast(leastMoisturePercent)]),
    ...(carbonToNitrogen === null ? [] : [`a C:N of ${carbonToNitrogen.least} to ${carbonToNitrogen.most}`]),
  ];
}

/** Whether one of these is there, as a whole sentence. */
export function sayDemand(
  demand: Demand,
  standing: readonly Stretch[],
  carbonToNitrogen: number | null,
  terms: Terms,
  calendar: SiteCalendar,
): string {
  const reached = demand.atMs === null ? null : `reached on ${calendar.say(demand.atMs)}.`;
  switch (demand.key) {
    case 'peak':
      return sayPeak(reached, standing, terms);
    case 'average':
      return sayMean(reached, standing, terms);
    case 'moisture': {
      const least = sayLeast(terms.leastMoisturePercent ?? 0);
      if (demand.state === 'unknown')
        return `Asked for: ${least}. None has been measured in the time that counts.`;
      return demand.atMs === null
        ? `Asked for: ${least}. No such measure lies in the time that counts.`
        : `Asked for: ${least}. Measured on ${calendar.say(demand.atMs)}.`;
    }
    case 'carbon-to-nitrogen':
      return sayMix(demand, carbonToNitrogen, terms);
  }
}

function sayPeak(reached: string | null, standing: readonly Stretch[], { peak, reading }: Terms): string {
  if (peak === null) return '';
  const unbroken = reading === 'consecutive' ? ' without a break' : '';
  const lengths = standing.flatMap(({ peaks }) => peaks.map(({ fromMs, toMs }) => toMs - fromMs));
  const soFar = lengths.reduce((a, b) => (reading === 'consecutive' ? Math.max(a, b) : a + b), 0);
  return `Asked for: ${sayHours(peak.ms)}${unbroken} ${sayLevel(peak)}. ${reached === null ? `Shown: ${sayHours(soFar)}.` : capital(reached)}`;
}

function sayMean(
  reached: string | null,
  standing: readonly Stretch[],
  { average, requiredMs }: Terms,
): string {
  if (average === null) return '';
  const asked = `Asked for: a mean ${sayLevel(average)}, over ${sayHours(requiredMs)} or more of one run.`;
  if (reached !== null) return `${asked} ${capital(reached)}`;
  const mean = standing.at(-1)?.meanDeciC ?? null;
  return mean === null
    ? `${asked} Not reached.`
    : `${asked} Not reached yet: the run so far, which may be too short, has a mean of ${sayTemperature(mean)}.`;
}

function sayMix({ state }: Demand, ratio: number | null, { carbonToNitrogen }: Terms): string {
  if (carbonToNitrogen === null) return '';
  const { least, most } = carbonToNitrogen;
  const asked = `Asked for: a C:N of the mix of ${least} to ${most}.`;
  if (ratio === null) return `${asked} It is not known.`;
  const figure = sayFigure(ratio, ratio > most ? 'up' : 'down');
  return state === 'met'
    ? `${asked} It is ${figure}.`
    : `${asked} It is ${figure}, and no time at heat changes that.`;
}

const sayLeast = (percent: number): string => `moisture of at least ${sayFigure(percent, 'up')} %`;

const capital = (text: string): string => `${text.charAt(0).toUpperCase()}${text.slice(1)}`;
