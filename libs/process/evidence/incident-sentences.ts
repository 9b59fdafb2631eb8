import type { SiteCalendar } from '../calendar.js';
import type { Incident } from '../reading/course.js';
import type { Terms } from '../reading/terms.js';
import {
  sayCount,
  sayFigure,
  sayHours,
  sayList,
  sayMissed,
  sayTemperature,
  type Rounding,
} from '../words.js';

const endsOf = {
  coldest: ['coldest probe', 'hottest probe'],
  mean: ['mean of the probes', 'mean of the probes'],
  'coldest-zone': ['mean of the coldest zone', 'mean of the hottest zone'],
} as const;

/** What earned no time, in a sentence. `look` is what a batch was looked at with: a check, or a check or reading. */
export function sayIncident(incident: Incident, terms: Terms, calendar: SiteCalendar, look: string): string {
  const when = sayWhen(incident, calendar);
  const [coldEnd, hotEnd] = endsOf[terms.governing];
  switch (incident.kind) {
    case 'gap':
      return sayGap(incident, terms, calendar, look);
    case 'too-dry':
      return sayDry(incident, terms, calendar);
    case 'below-threshold':
      return `${when}: ${reached(incident, coldEnd, 'down')}, ${sayMissed(terms.level)}.`;
    case 'above-limit':
      return `${when}: ${reached(incident, hotEnd, 'up')}, above the rule's limit of ${sayTemperature(terms.upperLimitDeciC)}.`;
    case 'after-turn':
      return `${when}: ${reached(incident, coldEnd, 'down')}, within ${sayHours(terms.graceMs)} of a turn. No time is credited around it, and it breaks nothing.`;
    case 'implausible':
      return `${when}: hotter than boiling water. Check the probe and its unit; if it is true, the pile may be burning: keep away and follow the fire plan of the site. Counted neither for nor against the batch.`;
    case 'too-few-probes':
      return `${when}: fewer probes than the ${terms.minimumProbes} asked for, so it counts for nothing.`;
    case 'too-few-zones':
      return `${when}: fewer zones than the ${terms.minimumZones} asked for, so it counts for nothing.`;
    case 'too-shallow':
      return `${when}: ${sayShallow(terms)}, so it counts for nothing.`;
  }
}

/** "fewer than 2 probes known to be at 30 cm or deeper". */
export function sayShallow({
  minimumProbes,
  minimumZones,
  minimumDepthMm,
}: Pick<Terms, 'minimumProbes' | 'minimumZones' | 'minimumDepthMm'>): string {
  const where = minimumZones > 1 ? ` in ${minimumZones} zones` : '';
  return `fewer than ${sayCount(minimumProbes, 'probe')}${where} known to be at ${(minimumDepthMm ?? 0) / 10} cm or deeper`;
}

/** "The check of 3 May 2024 08:00", "3 checks and 40 readings of logger L-2 from … to …". */
function sayWhen(incident: Incident, calendar: SiteCalendar): string {
  const { fromMs, toMs, checks, readings } = incident;
  if (checks + readings > 1)
    return `${sayLooks(incident)} from ${calendar.say(fromMs)} to ${calendar.say(toMs)}`;
  const one = readings === 1 ? `The reading of ${sayLoggers(incident)} on` : 'The check of';
  return `${one} ${calendar.say(fromMs)}`;
}

function sayLooks(incident: Incident): string {
  const { checks, readings } = incident;
  return sayList([
    ...(checks === 0 ? [] : [sayCount(checks, 'check')]),
    ...(readings === 0 ? [] : [`${sayCount(readings, 'reading')} of ${sayLoggers(incident)}`]),
  ]);
}

function sayLoggers({ loggers }: Incident): string {
  return `${loggers.length === 1 ? 'logger' : 'loggers'} ${sayList(loggers.toSorted())}`;
}

function reached({ checks, readings, extreme }: Incident, probe: string, direction: Rounding): string {
  if (extreme === null) return probe;
  return `${probe} ${checks + readings > 1 ? `${direction} to ` : ''}${sayTemperature(extreme, direction)}`;
}

function sayDry(incident: Incident, { leastMoisturePercent }: Terms, calendar: SiteCalendar): string {
  const { fromMs, toMs, checks, readings, extreme } = incident;
  const least = `the ${sayFigure(leastMoisturePercent ?? 0, 'up')} % asked for`;
  if (extreme === null)
    return `${sayWhen(incident, calendar)}: the last measure of moisture was below ${least}.`;
  const measured = `Moisture measured on ${calendar.say(fromMs)}: ${sayFigure(extreme, 'down')} %, below ${least}.`;
  return checks + readings === 0
    ? measured
    : `${measured} ${sayLooks(incident)} until ${calendar.say(toMs)} therefore did not hold.`;
}

function sayGap({ fromMs, toMs }: Incident, terms: Terms, calendar: SiteCalendar, look: string): string {
  if (terms.requiredDays !== null) {
    return `No ${look} that counts from ${calendar.sayDay(fromMs)} to ${calendar.sayDay(toMs - 1)}: those days are not shown.`;
  }
  return `No ${look} that counts between ${calendar.say(fromMs)} and ${calendar.say(toMs)}, ${sayHours(toMs - fromMs)} apart where at most ${sayHours(terms.longestGapMs)} are credited: that time is not shown.`;
}
