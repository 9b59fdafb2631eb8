import { hourMs, SiteCalendar } from '../calendar.js';
import type { Caution, Check } from '../facts.js';
import { boilingDeciC } from '../reading/moments.js';
import type { Span } from '../verdict.js';
import { sayTemperature } from '../words.js';
import { type LoggerHours, type ProbeHour, probesOf, spanOf } from './hours.js';
import { inOrderOf, runsOf, saySpan } from './stretches.js';

/** Many sensors show an end of their scale when they are open or shorted; -40 °C (-40 °F) is a usual one (common practice). */
export const endOfScaleDeciC = -400;
/** Faults that come and go within a day are told once. */
const APART_MS = 24 * hourMs;

const SMOULDERS =
  'If it is true the pile smoulders: do not open it, keep people away, follow the fire plan of the site.';

/** Whether a caution is of a heat that only a broken probe shows, or a pile that burns. */
export const mayBeFire = ({ kind, text }: Caution): boolean =>
  kind === 'implausible' && text.endsWith(SMOULDERS);

/** Readings that no working probe in a pile gives: above 100 °C, or exactly -40 °C. */
export function implausibleCautions(
  loggers: readonly LoggerHours[],
  checks: readonly Check[],
  timeZone: string,
): Caution[] {
  const calendar = new SiteCalendar(timeZone);
  return [
    ...loggers.flatMap((logger) =>
      probesOf(logger).flatMap(({ name, hours }) => {
        const told = (odd: 'hot' | 'end') =>
          oddRuns(hours, odd).map((run) => {
            const mostDeciC =
              odd === 'end' ? endOfScaleDeciC : Math.max(...run.map(({ maxDeciC }) => maxDeciC));
            return cautionOf(
              logger.logger,
              `${logger.logger}, probe ${name}`,
              spanOf(run),
              mostDeciC,
              calendar,
            );
          });
        return [...told('hot'), ...told('end')];
      }),
    ),
    ...inOrderOf(checks, ({ occurredAtMs }) => occurredAtMs).flatMap(({ occurredAtMs, readings }) =>
      readings.flatMap(({ position, temperatureDeciC }) => {
        if (temperatureDeciC <= boilingDeciC && temperatureDeciC !== endOfScaleDeciC) return [];
        const at = { fromMs: occurredAtMs, toMs: occurredAtMs };
        return [cautionOf(position, `Check by hand, ${position}`, at, temperatureDeciC, calendar)];
      }),
    ),
  ];
}

function oddRuns(hours: readonly ProbeHour[], odd: 'hot' | 'end'): ProbeHour[][] {
  const some = hours.filter(({ minDeciC, maxDeciC }) =>
    odd === 'hot' ? maxDeciC > boilingDeciC : minDeciC === endOfScaleDeciC,
  );
  return runsOf(some, (a, b) => b.atMs - a.atMs <= APART_MS);
}

function cautionOf(
  instrument: string,
  what: string,
  span: Span,
  deciC: number,
  calendar: SiteCalendar,
): Caution {
  const why =
    deciC === endOfScaleDeciC
      ? 'An open or shorted sensor often shows exactly that. Look at the probe and its cable.'
      : `Water boils out of a pile before it gets so hot. Check the probe and the unit. ${SMOULDERS}`;
  const text = `${what}, ${saySpan(span, calendar)}: ${sayTemperature(deciC)}. ${why}`;
  return { kind: 'implausible', ...span, instrument, text };
}
